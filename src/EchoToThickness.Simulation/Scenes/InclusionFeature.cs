using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.inclusion]]</c>: small reflectors scattered in the metal at random.</summary>
public sealed record InclusionFeature
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

    /// <summary>Inclusions.</summary>
    [ProcedureKey("count", "Inclusions.", Minimum = 0)]
    public int Count { get; init; } = 1;

    /// <summary>Diameter of each.</summary>
    [ProcedureKey("diameter", "Diameter of each.", Dimension.Length, Minimum = 0)]
    public double DiameterMetres { get; init; } = 1e-3;

    /// <summary>Depth below the outer surface; left out: random in the middle 80 % of the wall.</summary>
    [ProcedureKey("depth", "Depth below the outer surface; left out: random in the middle 80 % of the wall.")]
    public WallDepth? Depth { get; init; }

    /// <summary>Fraction of the amplitude that one reflects over its area.</summary>
    [ProcedureKey(
        "reflected",
        "Fraction of the amplitude that one reflects over its area.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 1
    )]
    public double ReflectedFraction { get; init; } = 0.5;
}
