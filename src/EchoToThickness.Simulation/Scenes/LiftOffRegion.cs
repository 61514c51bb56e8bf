using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[coupling.lift_off]]</c>: a region where the couplant is thicker by a step.</summary>
public sealed record LiftOffRegion
{
    /// <summary>For people.</summary>
    [ProcedureKey("name", "For people.")]
    public string Name { get; init; } = "";

    /// <summary>Centre along the component: a length from its start, an angle of the bend, or a fraction of the length.</summary>
    [ProcedureKey(
        "along",
        "Centre along the component: a length from its start, an angle of the bend, or a fraction of the length."
    )]
    public SceneLength Along { get; init; } = SceneLength.FromMetres(0);

    /// <summary>Centre around the girth (a plate: across): a length, an angle from the extrados, or a fraction of the girth.</summary>
    [ProcedureKey(
        "around",
        "Centre around the girth (a plate: across): a length, an angle from the extrados, or a fraction of the girth."
    )]
    public SceneLength Around { get; init; } = SceneLength.FromMetres(0);

    /// <summary>Extent along; left out: everywhere.</summary>
    [ProcedureKey("length", "Extent along; left out: everywhere.")]
    public SceneLength? Length { get; init; }

    /// <summary>Extent around; left out: everywhere.</summary>
    [ProcedureKey("width", "Extent around; left out: everywhere.")]
    public SceneLength? Width { get; init; }

    /// <summary>Thickness added to the couplant, metres.</summary>
    [ProcedureKey("step", "Thickness added to the couplant.", Dimension.Length, Required = true)]
    public double StepMetres { get; init; }
}
