using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.hole]]</c>: a flat-bottom hole drilled from the inside.</summary>
public sealed record HoleFeature
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

    /// <summary>Diameter.</summary>
    [ProcedureKey("diameter", "Diameter.")]
    public SceneLength Diameter { get; init; } = SceneLength.FromMetres(6e-3);

    /// <summary>Depth from the inside: a length or a fraction of the nominal wall; or give wall.</summary>
    [ProcedureKey("depth", "Depth from the inside: a length or a fraction of the nominal wall; or give wall.")]
    public WallDepth? Depth { get; init; }

    /// <summary>Wall that remains.</summary>
    [ProcedureKey("wall", "Wall that remains.")]
    public WallDepth? Wall { get; init; }

    /// <summary>Depth gained each year of [survey] years.</summary>
    [ProcedureKey("growth_per_year", "Depth gained each year of [survey] years.", Dimension.LengthPerYear, Minimum = 0)]
    public double GrowthMetresPerYear { get; init; } = 0;
}
