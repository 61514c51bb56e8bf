using EchoToThickness.Grids;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Measurement;

/// <summary>A procedure compiled for one stack: everything derived that does not depend on the samples. Immutable, shared by all threads.</summary>
public sealed class MeasurementPlan
{
    private MeasurementPlan(
        Procedure procedure,
        StackInfo stack,
        ResolvedVelocity velocity,
        IReadOnlyList<GridLayer> layers
    )
    {
        Procedure = procedure;
        Stack = stack;
        Velocity = velocity;
        Layers = layers;
    }

    /// <summary>The procedure.</summary>
    public Procedure Procedure { get; }

    /// <summary>The stack it was compiled for.</summary>
    public StackInfo Stack { get; }

    /// <summary>Metres for seconds.</summary>
    public ResolvedVelocity Velocity { get; }

    /// <summary>Layers of the grid, in file order; status included.</summary>
    public IReadOnlyList<GridLayer> Layers { get; }

    /// <summary>Compiles a procedure for a stack.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="stack">The stack.</param>
    /// <param name="velocity">Metres for seconds, already resolved for both.</param>
    /// <exception cref="ProcedureException">A layer name is unknown, or settings contradict each other or the stack.</exception>
    public static MeasurementPlan Compile(Procedure procedure, StackInfo stack, ResolvedVelocity velocity)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(velocity);
        var layers = new List<GridLayer>();
        foreach (string name in procedure.Output.Layers)
        {
            if (!GridLayers.TryParse(name, out GridLayer layer))
                throw new ProcedureException(
                    $"There is no layer '{name}'.",
                    "output.layers",
                    "use names from: " + string.Join(", ", GridLayers.All.Select(GridLayers.NameOf)) + "."
                );
            layers.Add(layer);
        }
        if (layers.Count == 0)
            layers.AddRange(GridLayers.All);
        return new MeasurementPlan(
            procedure,
            stack,
            velocity,
            layers.Append(GridLayer.Status).Distinct().Order().ToArray()
        );
    }
}
