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

    /// <summary>Strength.</summary>
    [ProcedureKey("strength", "Remaining strength of straight pipe by B31G; screening only.")]
    public StrengthPlan Strength { get; init; } = new();

    /// <summary>Averaging.</summary>
    [ProcedureKey("averaging", "Thickness averaging; screening only, formulas from memory.")]
    public AveragingPlan Averaging { get; init; } = new();

    /// <summary>Change.</summary>
    [ProcedureKey("change", "Change since earlier surveys of the same component.")]
    public ChangePlan Change { get; init; } = new();

    /// <summary>Life.</summary>
    [ProcedureKey("life", "Remaining life with an interval; screening only.")]
    public LifePlan Life { get; init; } = new();

    /// <summary>Reads a plan.</summary>
    /// <param name="toml">Text.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault found, also sections that lack what they need.</exception>
    public static StatisticsPlan Read(string toml, string fileName)
    {
        TomlDocument<StatisticsPlan> document = TomlBinder.Read<StatisticsPlan>(toml, fileName);
        IReadOnlyList<ProcedureFinding> findings = StatisticsPlanCheck.Of(document.Value);
        return findings.Count == 0 ? document.Value : throw new ProcedureException([.. document.Locate(findings)]);
    }

    /// <summary>The page docs/statistics-plan-reference.md, made from the descriptions that the parser itself reads.</summary>
    public static string ReferencePageText() =>
        ReferencePage.Of(
            typeof(StatisticsPlan),
            "Plan of statistics: reference",
            "A plan is a TOML file for `ett statistics` and `ett export`. Every quantity is text with its unit (`\"8.6 mm\"`); a key that is left "
                + "out has its default; an unknown key is an error. What the results mean: [statistics guide](statistics-guide.md). This page is made "
                + "from the descriptions that the parser itself reads: run the tests with `ETT_WRITE_DOCS=1` to write it anew."
        );
}
