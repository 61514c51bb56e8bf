using EchoToThickness.Grids;
using EchoToThickness.Measurement.Fast;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Uncertainty;
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
        Uncertainty = UncertaintyModel.For(procedure, stack, velocity);
    }

    /// <summary>The procedure.</summary>
    public Procedure Procedure { get; }

    /// <summary>The stack it was compiled for.</summary>
    public StackInfo Stack { get; }

    /// <summary>Metres for seconds.</summary>
    public ResolvedVelocity Velocity { get; }

    /// <summary>Standard uncertainty of a wall.</summary>
    public UncertaintyModel Uncertainty { get; }

    /// <summary>Layers of the grid, in file order; status included.</summary>
    public IReadOnlyList<GridLayer> Layers { get; }

    /// <summary>Warnings about procedure and stack, one line each.</summary>
    public IReadOnlyList<string> Warnings { get; private set; } = [];

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
        ProcedureCheck.ThrowIfUnused(procedure);
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
            layers.AddRange(
                GridLayers.All.Where(layer =>
                    layer != GridLayer.WrongEchoProbability || procedure.Map.Choice != MapChoice.Off
                )
            );
        return new MeasurementPlan(
            procedure,
            stack,
            velocity,
            layers.Append(GridLayer.Status).Distinct().Order().ToArray()
        );
    }

    /// <summary>Compiles a procedure for a stack, resolving the velocity.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="stack">The stack.</param>
    /// <exception cref="ProcedureException">Settings contradict each other or the stack, or nobody states a velocity.</exception>
    public static MeasurementPlan Compile(Procedure procedure, StackInfo stack)
    {
        ProcedureCheck.ThrowIfInconsistent(procedure);
        IReadOnlyList<string> warnings = ProcedureCheck.Against(procedure, stack);
        MeasurementPlan plan = Compile(procedure, stack, VelocityResolver.Resolve(procedure, stack));
        plan.Warnings = [.. warnings, .. plan.Velocity.Warnings];
        return plan;
    }

    /// <summary>What a grid measured with this plan says of itself.</summary>
    /// <param name="programVersion">Version of the program.</param>
    public GridHeader CreateHeader(string programVersion)
    {
        string text = ProcedureText.Write(Procedure);
        return new GridHeader
        {
            Stack = Stack,
            Layers = Layers,
            ProcedureText = text,
            ProcedureSha256 = ProcedureText.Sha256OfText(text),
            ProgramVersion = programVersion,
            VelocityMetresPerSecond = Velocity.MetresPerSecond,
            VelocityUncertaintyMetresPerSecond = Velocity.UncertaintyMetresPerSecond,
            VelocitySource = Velocity.Source,
            Corrections = [.. Velocity.Corrections, .. TrainPlan.DescribeDiffraction(this)],
            Warnings = Warnings,
        };
    }

    /// <summary>Asks, without the cost of <see cref="CreateMeasurer"/>, whether a measurer can be made.</summary>
    /// <exception cref="ProcedureException">The pairing rule cannot be used with this stack, or a pick or polarity with its signal.</exception>
    public void CheckMeasurer()
    {
        if (Procedure.Pairing.Rule == PairingRule.Train)
            _ = TrainPlan.ScaleOf(Procedure, Stack);
        else
            _ = CreateMeasurer();
    }

    /// <summary>Makes a measurer for one thread: the fastest that accepts the procedure. All that accept it give the same answer.</summary>
    /// <param name="path">Kernel implementation; null for the machine's best.</param>
    /// <exception cref="ProcedureException">The pairing rule cannot be used with this stack.</exception>
    public LineMeasurer CreateMeasurer(KernelPath? path = null)
    {
        KernelPath kernels = path ?? KernelPaths.Best;
        if (Procedure.Pairing.Rule == PairingRule.Train)
            return Procedure.Estimation.Method == EstimationMethod.Train
                ? new TrainMeasurer(this, kernels)
                : new EstimatorMeasurer(this, kernels);
        return RectifiedGateMeasurer.TryCreate(this, kernels)
            ?? EnvelopeGateMeasurer.TryCreate(this, kernels)
            ?? (LineMeasurer)new GateMeasurer(this, kernels);
    }
}
