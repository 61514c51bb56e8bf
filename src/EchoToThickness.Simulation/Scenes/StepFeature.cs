using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.step]]</c>: a rectangle with one exact wall, as on a reference block.</summary>
public sealed record StepFeature
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

    /// <summary>Wall that remains: a length or a fraction of the nominal wall.</summary>
    [ProcedureKey("wall", "Wall that remains: a length or a fraction of the nominal wall.")]
    public WallDepth? Wall { get; init; }

    /// <summary>Width over which the edge rises; 0: sharp.</summary>
    [ProcedureKey("edge_radius", "Width over which the edge rises; 0: sharp.", Dimension.Length, Minimum = 0)]
    public double EdgeRadiusMetres { get; init; } = 0;

    /// <summary>Depth gained each year of [survey] years.</summary>
    [ProcedureKey("growth_per_year", "Depth gained each year of [survey] years.", Dimension.LengthPerYear, Minimum = 0)]
    public double GrowthMetresPerYear { get; init; } = 0;
}
