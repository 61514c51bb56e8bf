using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>A plan of statistics: what a grid is turned into, every key with its default.</summary>
public sealed record StatisticsPlan
{
    /// <summary>Thresholds.</summary>
    [ProcedureKey("thresholds", "Walls below which areas are asked for.", Dimension.Length)]
    public IReadOnlyList<double> ThresholdsMetres { get; init; } = [];

    /// <summary>Component.</summary>
    [ProcedureKey("component", "Facts of the component in place of those of the grid.")]
    public ComponentPlan Component { get; init; } = new();

    /// <summary>Placement.</summary>
    [ProcedureKey("placement", "Where lines lie, in place of what the grid says.")]
    public PlacementPlan Placement { get; init; } = new();

    /// <summary>Facts of single lines.</summary>
    [ProcedureKey("line", "Facts of one line, on top of the grid's and those of [placement].")]
    public IReadOnlyList<LinePlan> Lines { get; init; } = [];

    /// <summary>Stitching.</summary>
    [ProcedureKey("stitch", "How lines are put together.")]
    public StitchPlan Stitch { get; init; } = new();

    /// <summary>Regions.</summary>
    [ProcedureKey("regions", "Thin regions.")]
    public RegionPlan Regions { get; init; } = new();

    /// <summary>Extremes.</summary>
    [ProcedureKey("extremes", "Statement about metal without a measured wall.")]
    public ExtremesPlan Extremes { get; init; } = new();

    /// <summary>Design.</summary>
    [ProcedureKey("design", "Pressure design of the minimum required wall; screening only.")]
    public DesignPlan Design { get; init; } = new();

    /// <summary>Reads a plan.</summary>
    /// <param name="toml">Text.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault found.</exception>
    public static StatisticsPlan Read(string toml, string fileName) =>
        TomlBinder.Read<StatisticsPlan>(toml, fileName).Value;
}
