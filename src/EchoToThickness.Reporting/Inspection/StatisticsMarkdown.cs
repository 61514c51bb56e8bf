using System.Globalization;
using System.Text;
using EchoToThickness.Components;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The report as a page to read: cautions first, then minimum, areas, coverage, regions, unmeasured metal, positions, provenance.</summary>
public static class StatisticsMarkdown
{
    /// <summary>Writes the page.</summary>
    /// <param name="report">The report.</param>
    public static string Write(StatisticsReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder();
        void Line(FormattableString words) => text.Append(words.ToString(CultureInfo.InvariantCulture)).Append('\n');
        Line($"# Statistics of {report.Grid}\n");
        Line($"{Capital(report.Component)}.\nPositions: {report.Datum}.\n");
        Line($"## Cautions\n");
        foreach (string caution in report.Cautions)
            Line($"- {caution}");
        MinimumWall least = report.Description.Minimum;
        Line($"\n## Wall\n\n| | |\n|---|---|");
        Line($"| smallest measured | {Mm(least.MeasuredMetres)} +- {Fine(least.StandardUncertaintyMetres)} (k = 1) |");
        Line(
            $"| its interval, 95 %, unless its echo is the wrong one | {Mm(least.LowerMetres)} to {Mm(least.UpperMetres)} |"
        );
        MinimumStatement doubt = report.Minimum;
        Line(
            $"| chance that its echo is the wrong one, at least | {Chance(doubt)}{(doubt.OtherWallMetres is { } other ? "; its other wall: " + Mm(other) : "")} |"
        );
        Line(
            $"| interval of the true minimum with that chance, 95 % | {Mm(doubt.LowerMetres)} to {(doubt.UpperMetres is { } upper ? Mm(upper) : "an upper end that no wall bears out")} |"
        );
        Line($"| its place | along {Mm(least.Position.AlongMetres)}, around {Mm(least.Position.AroundMetres)} |");
        Line($"| its cell | {Cell(report.MinimumCell)} |");
        Line(
            report.BorneOut is { } sure
                ? (FormattableString)
                    $"| smallest that the four cells beside it bear out | {Mm(sure.WallMetres)} +- {Fine(sure.StandardUncertaintyMetres)} (k = 1), along {Mm(sure.Place.AlongMetres)}, around {Mm(sure.Place.AroundMetres)}; {Cell(sure.Cell)} |"
                : $"| smallest that the four cells beside it bear out | none |"
        );
        Line(
            $"| bias of a minimum of {least.Contenders} cells | {Fine(least.BiasMetres)}; corrected {Mm(least.BiasCorrectedMetres)}, for information only |"
        );
        Line($"| smallest credible under any rule | {Mm(report.SmallestCredibleMetres)} |");
        Line(
            $"| mean, standard deviation, mode | {Mm(report.Description.MeanMetres)}, {Mm(report.Description.StandardDeviationMetres)}, {Mm(report.Description.ModeMetres)} |"
        );
        foreach (MapQuantile q in report.Description.Quantiles)
            Line($"| {q.Probability:0.0##} of the area is thinner than | {Mm(q.ThicknessMetres)} |");
        if (report.Description.Thresholds.Count > 0)
        {
            Line(
                $"\n| below | area | of the measured | by probability | surely (95 %) | possibly | at most |\n|---|---|---|---|---|---|---|"
            );
            foreach ((ThresholdArea t, BelowArea either) in report.Description.Thresholds.Zip(report.BelowAreas))
                Line(
                    $"| {Mm(t.ThresholdMetres)} | {Area(t.AreaBelowSquareMetres)} | {t.FractionBelow:0.00 %} | {Area(either.ExpectedSquareMetres)} | {Area(t.SurelyBelowSquareMetres)} | {Area(t.PossiblyBelowSquareMetres)} | {Area(either.AtMostSquareMetres)} |"
                );
            Line(
                $"\nArea: the walls of the map by the rule of stitching. By probability: every measured value with its chance to be below, a cell with two walls split between them by its margin. Surely and possibly: by the uncertainty of the wall alone. At most: every cell of which either wall lies below. A second wall counts where a neighbouring cell measures it. Metal without a wall counts in none of them."
            );
        }
        Line(
            $"\n## Coverage\n\nTrue outer areas.\n\n| zone | required | scanned | measured | lost |\n|---|---|---|---|---|"
        );
        foreach (ZoneCoverage zone in report.Coverage.Zones)
        {
            string lost = string.Join(
                ", ",
                zone.LostSquareMetres.Select(l => $"{Word(l.Key.ToString())} {Area(l.Value)}")
            );
            Line(
                $"| {(zone.Zone is { } name ? Word(name.ToString()) : "all")} | {Area(zone.RequiredSquareMetres)} | {zone.ScannedSquareMetres / zone.RequiredSquareMetres:0.0 %} | {zone.MeasuredSquareMetres / zone.RequiredSquareMetres:0.0 %} | {lost} |"
            );
        }
        if (report.Coverage.LargestDisc is { } disc)
            Line(
                $"\nLargest disc without the centre of a measured cell: {Mm(disc.DiameterMetres)} across, at along {Mm(disc.Centre.AlongMetres)}, around {Mm(disc.Centre.AroundMetres)}; a spot without a measured cell is not larger by more than an eighth of a cell. About the same centre {Mm(disc.FreeOfCellsMetres)} lie outside every measured cell (half a pitch either way)."
            );
        foreach (CoverageGap gap in report.Coverage.Gaps.Take(10))
            Line(
                $"- gap of {Area(gap.AreaSquareMetres)}: along {Mm(gap.AlongFromMetres)} to {Mm(gap.AlongToMetres)}, around {Mm(gap.AroundFromMetres)} to {Mm(gap.AroundToMetres)}, longest run along {Mm(gap.WidestAlongMetres)} of metal, disc {Mm(gap.Disc.DiameterMetres)}"
            );
        if (report.Coverage.Gaps.Count > 10)
            Line($"- {report.Coverage.Gaps.Count - 10} further gaps stand in the JSON file.");
        Lost(report.Coverage.Lost, Line);
        Regions(report, Line);
        UnmeasuredMarkdown.Write(report, Line);
        ChangeMarkdown.Write(report.Changes, Line);
        Line($"\n## Positions and overlaps\n");
        if (report.Overlap.Cells > 0)
            Line(
                $"Repeatability of a wall from {report.Overlap.Cells} overlapping values: {Fine(report.Overlap.RepeatabilityMetres)} (the grid states {Fine(report.Overlap.StatedNoiseMetres)}). The smallest of overlapping walls lies {Fine(-report.Overlap.SmallestBiasMetres)} below their mean; noise alone would give {Fine(-report.Overlap.ExpectedBiasMetres)}.\n"
            );
        foreach (
            string words in report
                .PositionFaults.Select(f => f.Words)
                .Concat(report.PositionsNotTold)
                .Concat(report.PositionCorrections)
        )
            Line($"- {words}");
        if (report.OverruleEffect is { } effect)
        {
            Line(
                $"\n## Overrules\n\n{report.Overrules.Count} decisions about {effect.Cells} cells. Minimum {Mm(effect.MachineMinimumMetres)} by the machine, {Mm(effect.MinimumMetres)} with them. Excluded cells count as lost (ambiguous pairing) in the coverage. Replay by the machine alone: --machine-only."
            );
            for (int k = 0; k < effect.BelowSquareMetres.Count; k++)
                Line(
                    $"Below {Mm(report.Description.Thresholds[k].ThresholdMetres)}: {Area(effect.MachineBelowSquareMetres[k])} by the machine, {Area(effect.BelowSquareMetres[k])} with them; by probability {Area(effect.MachineExpectedSquareMetres[k])} and {Area(effect.ExpectedSquareMetres[k])}."
                );
            Line(
                $"Bound of unmeasured metal: {(effect.MachineBoundMetres is { } a ? Mm(a) : "none")} by the machine, {(effect.BoundMetres is { } b ? Mm(b) : "none")} with them.\n"
            );
            foreach (Overrule o in report.Overrules)
                Line(
                    $"- {Word(o.Kind.ToString())}, line {o.Line}, scan {o.FirstScan} + {o.Scans}, beam {o.FirstBeam} + {o.Beams}: {o.Reason} ({o.By}, {o.Time})"
                );
        }
        AssessmentMarkdown.Write(report.Assessment, Line);
        Line(
            $"\n## Provenance\n\nGrid SHA-256 {report.GridSha256}; procedure {report.ProcedureSha256}; program {report.ProgramVersion}."
        );
        foreach ((string line, string sha) in report.StackSha256.DistinctBy(s => s.Value))
            Line($"Stack SHA-256 {(sha.Length > 0 ? sha : "not recorded")} ({line}).");
        return text.ToString();
    }

    private static void Regions(StatisticsReport report, Action<FormattableString> line)
    {
        if (report.Regions.Count == 0)
            return;
        line(
            $"\n## Regions\n\n| | kind | smallest | borne out | depth | length | width | area | along | around | deepest cell | |\n|---|---|---|---|---|---|---|---|---|---|---|---|"
        );
        foreach (
            (ThinRegion r, CellSource? cell, BorneOutWall? sure) in report
                .Regions.Zip(report.RegionCells, report.RegionBorneOut)
                .Take(50)
        )
            line(
                $"| {r.Number} | {Word(r.Kind.ToString())} | {Mm(r.SmallestWallMetres)} | {(sure is null ? "no" : Mm(sure.WallMetres))} | {Mm(r.DepthMetres)} | {Mm(r.LengthMetres)} | {Mm(r.WidthMetres)} | {Area(r.AreaSquareMetres)} | {Mm(r.CentroidAlongMetres)} | {Mm(r.CentroidAroundMetres)} | {Cell(cell)} | {(r.OpenCells > 0 ? "may go on" : "")} |"
            );
        if (report.Regions.Count > 50)
            line($"\n{report.Regions.Count - 50} further regions stand in the JSON file.");
    }

    private static void Lost(IReadOnlyList<LostPatch> patches, Action<FormattableString> line)
    {
        if (patches.Count == 0)
            return;
        line(
            $"\nPlaces scanned without a wall (three cells or more):\n\n| along | around | area | disc | mostly | cell at its middle |\n|---|---|---|---|---|---|"
        );
        foreach (LostPatch p in patches.Take(20))
            line(
                $"| {Mm(p.Disc.Centre.AlongMetres)} | {Mm(p.Disc.Centre.AroundMetres)} | {Area(p.AreaSquareMetres)} | {Mm(p.Disc.DiameterMetres)} | {Word(p.Cause.ToString())} | {Cell(p.Source)} |"
            );
        if (patches.Count > 20)
            line($"\n{patches.Count - 20} further places stand in the JSON file.");
    }

    private static string Chance(MinimumStatement doubt) =>
        doubt.WrongEchoChance is not { } chance
            ? "not known"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"{chance:0.000} ({(doubt.IsStatedByGrid ? "the grid's probability of a wrong echo" : "half of what its margin lacks to 1, not calibrated")})"
            );

    private static string Cell(CellSource? cell) =>
        cell is null
            ? "none"
            : string.Create(CultureInfo.InvariantCulture, $"{cell.Line}, scan {cell.Scan}, beam {cell.Beam}");

    internal static string Mm(double metres) =>
        double.IsFinite(metres) ? (metres * 1e3).ToString("0.00", CultureInfo.InvariantCulture) + " mm" : "none";

    private static string Fine(double metres) =>
        double.IsFinite(metres) ? (metres * 1e3).ToString("0.000", CultureInfo.InvariantCulture) + " mm" : "none";

    internal static string Area(double squareMetres) =>
        squareMetres >= 1e-4
            ? (squareMetres * 1e4).ToString("0.0", CultureInfo.InvariantCulture) + " cm2"
            : (squareMetres * 1e6).ToString("0.0", CultureInfo.InvariantCulture) + " mm2";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    internal static string Word(string name) =>
        string.Concat(
            name.Select(
                (c, k) =>
                    k > 0 && char.IsUpper(c) ? " " + char.ToLowerInvariant(c) : char.ToLowerInvariant(c).ToString()
            )
        );
}
