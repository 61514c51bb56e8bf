using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.cluster]]</c>: a field of pits at random.</summary>
public sealed record PitCluster
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

    /// <summary>Pits in the region; or give density.</summary>
    [ProcedureKey("count", "Pits in the region; or give density.", Minimum = 0)]
    public int? Count { get; init; }

    /// <summary>Pits in a square metre on average; the number is Poisson distributed.</summary>
    [ProcedureKey("density", "Pits in a square metre on average; the number is Poisson distributed.", Minimum = 0)]
    public double? DensityPerSquareMetre { get; init; }

    /// <summary>How they are strewn.</summary>
    [ProcedureKey("placement", "How they are strewn.")]
    public PitPlacement Placement { get; init; } = PitPlacement.Poisson;

    /// <summary>Clustered: parents in a square metre.</summary>
    [ProcedureKey("parents", "Clustered: parents in a square metre.", Minimum = 0)]
    public double ParentsPerSquareMetre { get; init; } = 500;

    /// <summary>Clustered: standard deviation of the distance from the parent.</summary>
    [ProcedureKey(
        "spread",
        "Clustered: standard deviation of the distance from the parent.",
        Dimension.Length,
        Minimum = 0
    )]
    public double SpreadMetres { get; init; } = 10e-3;

    /// <summary>Law of the depths.</summary>
    [ProcedureKey("depth_law", "Law of the depths.")]
    public DepthLaw Law { get; init; } = DepthLaw.LogNormal;

    /// <summary>Log-normal: median depth.</summary>
    [ProcedureKey("median_depth", "Log-normal: median depth.", Dimension.Length, Minimum = 0)]
    public double MedianDepthMetres { get; init; } = 1e-3;

    /// <summary>Log-normal: standard deviation of the natural logarithm.</summary>
    [ProcedureKey("depth_spread", "Log-normal: standard deviation of the natural logarithm.", Minimum = 0, Maximum = 3)]
    public double DepthSpread { get; init; } = 0.5;

    /// <summary>Gumbel: location (mode) of the depth.</summary>
    [ProcedureKey("location", "Gumbel: location (mode) of the depth.", Dimension.Length, Minimum = 0)]
    public double LocationMetres { get; init; } = 1e-3;

    /// <summary>Gumbel: scale of the depth.</summary>
    [ProcedureKey("scale", "Gumbel: scale of the depth.", Dimension.Length, Minimum = 0)]
    public double ScaleMetres { get; init; } = 0.3e-3;

    /// <summary>Diameter of a pit over its depth.</summary>
    [ProcedureKey("diameter_to_depth", "Diameter of a pit over its depth.", Minimum = 0.1, Maximum = 100)]
    public double DiameterToDepth { get; init; } = 4;

    /// <summary>Shape.</summary>
    [ProcedureKey("shape", "Shape.")]
    public PitShape Shape { get; init; } = PitShape.Spherical;

    /// <summary>Deepest pit allowed: a length or a fraction of the nominal wall; deeper draws are drawn again.</summary>
    [ProcedureKey(
        "max_depth",
        "Deepest pit allowed: a length or a fraction of the nominal wall; deeper draws are drawn again."
    )]
    public WallDepth? MaximumDepth { get; init; }

    /// <summary>Depth gained each year of [survey] years.</summary>
    [ProcedureKey("growth_per_year", "Depth gained each year of [survey] years.", Dimension.LengthPerYear, Minimum = 0)]
    public double GrowthMetresPerYear { get; init; } = 0;
}
