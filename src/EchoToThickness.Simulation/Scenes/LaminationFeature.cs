using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.lamination]]</c>: a reflector parallel to the surface inside the metal.</summary>
public sealed record LaminationFeature
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

    /// <summary>Length.</summary>
    [ProcedureKey("length", "Length.")]
    public SceneLength Length { get; init; } = SceneLength.FromMetres(20e-3);

    /// <summary>Width.</summary>
    [ProcedureKey("width", "Width.")]
    public SceneLength Width { get; init; } = SceneLength.FromMetres(20e-3);

    /// <summary>Depth below the outer surface: a length or a fraction of the nominal wall.</summary>
    [ProcedureKey("depth", "Depth below the outer surface: a length or a fraction of the nominal wall.")]
    public WallDepth? Depth { get; init; }

    /// <summary>Fraction of the amplitude reflected; the rest goes on to the far wall.</summary>
    [ProcedureKey(
        "reflected",
        "Fraction of the amplitude reflected; the rest goes on to the far wall.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 1
    )]
    public double ReflectedFraction { get; init; } = 0.7;
}
