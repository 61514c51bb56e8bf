using EchoToThickness.Components;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Statistics.Spatial;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>All statistics of a grid. Property names carry units; lengths in metres, areas in square metres.</summary>
public sealed record StatisticsReport
{
    /// <summary>Format name.</summary>
    public string Format { get; init; } = "echo-to-thickness statistics";

    /// <summary>Format version.</summary>
    public string FormatVersion { get; init; } = "1.0";

    /// <summary>Version of the program.</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>Grid file, without folder.</summary>
    public required string Grid { get; init; }

    /// <summary>SHA-256 of the grid file.</summary>
    public required string GridSha256 { get; init; }

    /// <summary>SHA-256 of the measured stacks, by line.</summary>
    public required IReadOnlyDictionary<string, string> StackSha256 { get; init; }

    /// <summary>SHA-256 of the procedure.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>The plan, complete with defaults.</summary>
    public required string Plan { get; init; }

    /// <summary>Where positions count from and in which sense.</summary>
    public required string Datum { get; init; }

    /// <summary>Component: kind and dimensions in words.</summary>
    public required string Component { get; init; }

    /// <summary>Cells of the map along and around.</summary>
    public required IReadOnlyList<int> Cells { get; init; }

    /// <summary>Pitch of the map along (centre line) and around.</summary>
    public required IReadOnlyList<double> PitchMetres { get; init; }

    /// <summary>What a reader has to know first.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>Coverage.</summary>
    public required CoverageReport Coverage { get; init; }

    /// <summary>Repeatability from overlaps.</summary>
    public required OverlapReport Overlap { get; init; }

    /// <summary>Faults of positions.</summary>
    public required IReadOnlyList<PositionFault> PositionFaults { get; init; }

    /// <summary>Overlaps that cannot tell.</summary>
    public required IReadOnlyList<string> PositionsNotTold { get; init; }

    /// <summary>Corrections of positions applied.</summary>
    public required IReadOnlyList<string> PositionCorrections { get; init; }

    /// <summary>Overrules applied.</summary>
    public required IReadOnlyList<Overrule> Overrules { get; init; }

    /// <summary>What the overrules change; null without any.</summary>
    public required OverruleEffect? OverruleEffect { get; init; }

    /// <summary>Description of the map by the rule.</summary>
    public required MapDescription Description { get; init; }

    /// <summary>The measured cell of the smallest wall; null where it is not one cell's.</summary>
    public required CellSource? MinimumCell { get; init; }

    /// <summary>Smallest wall that the cells beside it bear out; null where none is.</summary>
    public required BorneOutWall? BorneOut { get; init; }

    /// <summary>The smallest wall with the chance that its echo is the wrong one.</summary>
    public required MinimumStatement Minimum { get; init; }

    /// <summary>Areas below the thresholds by probability, with the second walls of cells; in the order of the description's thresholds.</summary>
    public required IReadOnlyList<BelowArea> BelowAreas { get; init; }

    /// <summary>Smallest credible wall under any rule.</summary>
    public required double SmallestCredibleMetres { get; init; }

    /// <summary>Thin regions; empty without a limit.</summary>
    public required IReadOnlyList<ThinRegion> Regions { get; init; }

    /// <summary>The measured cell of each region's smallest wall, in the order of the regions.</summary>
    public required IReadOnlyList<CellSource?> RegionCells { get; init; }

    /// <summary>Each region's smallest wall that the cells beside it bear out, in the order of the regions.</summary>
    public required IReadOnlyList<BorneOutWall?> RegionBorneOut { get; init; }

    /// <summary>Regions taken together.</summary>
    public required IReadOnlyList<RegionGroup> RegionGroups { get; init; }

    /// <summary>Spatial structure; null where there is too little.</summary>
    public required SpatialStructure? Spatial { get; init; }

    /// <summary>Statement about unmeasured metal, the component taken as one population; null when not asked for.</summary>
    public required ExtremeAnalysis? Extremes { get; init; }

    /// <summary>The same for the zones of an elbow, each with its own metal; empty for other components.</summary>
    public required IReadOnlyList<ZoneExtremes> ZoneExtremes { get; init; }

    /// <summary>The bound to quote; null when not asked for.</summary>
    public required UnmeasuredHeadline? UnmeasuredHeadline { get; init; }

    /// <summary>Change since earlier surveys, the earliest first; empty when not asked for.</summary>
    public required IReadOnlyList<SurveyChange> Changes { get; init; }

    /// <summary>Screening figures; null when not asked for.</summary>
    public required AssessmentReport? Assessment { get; init; }
}
