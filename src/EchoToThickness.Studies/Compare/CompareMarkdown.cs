using System.Globalization;
using System.Text;
using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.Studies.Compare;

/// <summary>A report as Markdown for people: percent, micrometres, intervals in brackets.</summary>
public static class CompareMarkdown
{
    private static readonly CompareFigure[] Rates =
    [
        CompareFigure.Gross,
        CompareFigure.GrossThick,
        CompareFigure.Doubled,
        CompareFigure.Halved,
        CompareFigure.Cycle,
        CompareFigure.Missing,
    ];

    private static readonly CompareFigure[] Sizes =
    [
        CompareFigure.Bias,
        CompareFigure.Deviation,
        CompareFigure.Rmse,
        CompareFigure.RmseSound,
        CompareFigure.P95,
        CompareFigure.BoundRatio,
        CompareFigure.BoundRatioSound,
        CompareFigure.NoiseCoverage,
        CompareFigure.Coverage,
    ];

    /// <summary>The whole report, lines ended by line feeds.</summary>
    /// <param name="report">The report.</param>
    public static string Write(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        CultureInfo culture = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(culture, $"# {report.Study.Header.Name}\n\n");
        if (report.Study.Header.Note.Length > 0)
            text.Append(culture, $"{report.Study.Header.Note}\n\n");
        text.Append(
            culture,
            $"Seed {report.Study.Header.Seed}. Gross: off by more than {report.Study.Report.GrossMetres * 1e3:0.###} mm or {report.Study.Report.GrossFraction * 100:0.###} % of the wall, whichever is smaller. "
        );
        text.Append(
            culture,
            $"Brackets: {report.Study.Report.Level * 100:0.#} % intervals, from {report.Study.Report.Bootstrap} bootstrap resamples of clusters; rates of independent cells by Clopper and Pearson. Rates are parts of all cells, the other figures are over measured cells; 'sound' leaves gross errors out. Lengths in micrometres.\n\n"
        );
        foreach (string source in report.Rows.Select(r => r.Group.Source).Distinct())
            Source(text, report, source);
        Thresholds(text, report);
        Paired(text, report);
        Reliability(text, report);
        if (report.Registrations.Count > 0)
            text.Append(DrawingText.Table(report.Registrations));
        text.Append(culture, $"\nStudy SHA-256 {report.StudySha256}.\n");
        foreach ((string name, string hash) in report.Methods)
            text.Append(culture, $"Procedure of {name}: SHA-256 {hash}.\n");
        return text.ToString();
    }

    /// <summary>The headline table: every source as a whole.</summary>
    /// <param name="report">The report.</param>
    public static string Headline(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder();
        Table(
            text,
            [.. report.Of(GroupKind.Source)],
            [.. Rates, CompareFigure.RmseSound, CompareFigure.BoundRatioSound],
            "source",
            r => r.Group.Source
        );
        return text.ToString();
    }

    private static void Source(StringBuilder text, CompareReport report, string source)
    {
        CompareRow[] rows = [.. report.Rows.Where(r => r.Group.Source == source)];
        text.Append(CultureInfo.InvariantCulture, $"## {source}\n\n");
        foreach (GroupKind kind in Enum.GetValues<GroupKind>())
        {
            CompareRow[] part = [.. rows.Where(r => r.Group.Kind == kind)];
            if (part.Length == 0)
                continue;
            string heading = kind switch
            {
                GroupKind.Source => "All cells",
                GroupKind.Margin => "By one key, the others pooled",
                GroupKind.Band => "By true wall",
                GroupKind.Planted => "By what was planted",
                _ => "By point",
            };
            text.Append(CultureInfo.InvariantCulture, $"### {heading}\n\n");
            Table(text, part, Rates, "cells", r => r.Group.Words);
            Table(text, part, Sizes, "cells", r => r.Group.Words);
        }
    }

    private static void Table(
        StringBuilder text,
        IReadOnlyList<CompareRow> rows,
        CompareFigure[] figures,
        string what,
        Func<CompareRow, string> words
    )
    {
        CompareFigure[] shown = [.. figures.Where(f => rows.Any(r => !double.IsNaN(r[f].Value)))];
        bool bound =
            shown.Any(f => f is CompareFigure.Rmse or CompareFigure.RmseSound)
            && rows.Any(r => !double.IsNaN(r.BoundMetres));
        text.Append(
            CultureInfo.InvariantCulture,
            $"| {what} | method | n | {string.Join(" | ", shown.Select(CompareFigures.HeadingOf))}{(bound ? " | bound um" : "")} |\n"
        );
        text.Append("|---|---|").Insert(text.Length, "---:|", shown.Length + 1 + (bound ? 1 : 0)).Append('\n');
        foreach (CompareRow row in rows)
        {
            text.Append(CultureInfo.InvariantCulture, $"| {words(row)} | {row.Method} | {row.Cells} ");
            foreach (CompareFigure figure in shown)
                text.Append("| ").Append(Value(row[figure], CompareFigures.ScaleOf(figure))).Append(' ');
            if (bound)
                text.Append("| ").Append(Number(row.BoundMetres * 1e6)).Append(' ');
            text.Append("|\n");
        }
        text.Append('\n');
    }

    private static void Thresholds(StringBuilder text, CompareReport report)
    {
        if (report.Thresholds.Count == 0)
            return;
        text.Append(
            "## Threshold signal-to-noise ratio\n\nWhere, coming from high ratios, RMSE (gross errors included) leaves the bound by 3 dB, or more than half the cells are missing.\n\n"
                + "| source | cells | method | threshold dB | by |\n|---|---|---|---:|---|\n"
        );
        foreach (ThresholdRow row in report.Thresholds)
        {
            string cells =
                row.Values.Count == 0 ? "all" : string.Join(", ", row.Values.Select(v => $"{v.Key} {v.Text}"));
            string by =
                double.IsInfinity(row.Decibels.Value) ? ""
                : row.ByMissing ? "missing cells"
                : "error";
            text.Append(
                CultureInfo.InvariantCulture,
                $"| {row.Source} | {cells} | {row.Method} | {Threshold(row)} | {by} |\n"
            );
        }
        text.Append('\n');
    }

    /// <summary>A threshold in words: a number with its interval, or on which side of the sweep it lies.</summary>
    internal static string Threshold(ThresholdRow row)
    {
        string Side(double value) =>
            double.IsNegativeInfinity(value)
                ? string.Create(CultureInfo.InvariantCulture, $"< {row.LowestDecibels:0.##}")
            : double.IsPositiveInfinity(value)
                ? string.Create(CultureInfo.InvariantCulture, $"> {row.HighestDecibels:0.##}")
            : value.ToString("0.0", CultureInfo.InvariantCulture);
        Interval interval = row.Decibels.Interval;
        string value = Side(row.Decibels.Value);
        return interval.IsKnown && Side(interval.Low) + Side(interval.High) != value + value
            ? $"{value} ({Side(interval.Low)} to {Side(interval.High)})"
            : value;
    }

    private static void Paired(StringBuilder text, CompareReport report)
    {
        if (report.Paired.Count == 0)
            return;
        text.Append(
            CultureInfo.InvariantCulture,
            $"## Paired tests against {report.Paired[0].Reference}\n\nRMSE ratio: method over reference on cells that both measured without gross error, interval by paired bootstrap; under 1 the method is better. "
        );
        text.Append(
            "Wilcoxon: signed ranks of the difference of absolute errors, by cluster. McNemar: exact, clusters with more and with fewer events than the reference. p-values are two-sided and corrected by Holm over the rows of one kind.\n\n"
                + "| source | cells | method | n both sound | RMSE ratio | Wilcoxon p | gross more, fewer | McNemar p | missing more, fewer | McNemar p |\n"
                + "|---|---|---|---:|---:|---:|---:|---:|---:|---:|\n"
        );
        foreach (PairedRow row in report.Paired)
            text.Append(
                CultureInfo.InvariantCulture,
                $"| {row.Group.Source} | {row.Group.Words} | {row.Method} | {row.BothSound} | {Value(row.RmseRatio, 1)} | {P(row.WilcoxonAdjusted)} | {row.MoreGross}, {row.FewerGross} | {P(row.GrossAdjusted)} | {row.MoreMissing}, {row.FewerMissing} | {P(row.MissingAdjusted)} |\n"
            );
    }

    private static void Reliability(StringBuilder text, CompareReport report)
    {
        if (report.Reliability.Count == 0)
            return;
        text.Append(
            CultureInfo.InvariantCulture,
            $"\n## Stated and observed chance of a wrong echo\n\nMeasured cells by stated probability, in logarithmic bins of at least {ReliabilityTable.FewestCells} cells. Observed: part that is gross, percent, with an exact binomial interval that takes cells as independent.\n\n"
        );
        text.Append(
            "| source | method | stated % from | to | n | gross | mean stated % | observed % | observed / stated |\n|---|---|---:|---:|---:|---:|---:|---:|---:|\n"
        );
        foreach (ReliabilityRow row in report.Reliability)
            text.Append(
                CultureInfo.InvariantCulture,
                $"| {row.Source} | {row.Method} | {Number(row.Lowest * 100)} | {Number(row.Highest * 100)} | {row.Cells} | {row.Wrong} | {Number(row.Stated * 100)} | {Value(row.Observed, 100)} | {Number(row.Ratio)} |\n"
            );
    }

    private static string P(double value) =>
        double.IsNaN(value) ? "-"
        : value < 1e-4 ? "< 0.0001"
        : value.ToString("0.0000", CultureInfo.InvariantCulture);

    private static string Value(FigureValue figure, double scale)
    {
        string value = Number(figure.Value * scale);
        return figure.Interval.IsKnown
            ? $"{value} ({Number(figure.Interval.Low * scale)} to {Number(figure.Interval.High * scale)})"
            : value;
    }

    private static string Number(double value)
    {
        if (double.IsNaN(value))
            return "-";
        double size = Math.Abs(value);
        string format =
            size >= 100 ? "0"
            : size >= 10 ? "0.0"
            : size >= 1 ? "0.00"
            : "0.000";
        string text = value.ToString(format, CultureInfo.InvariantCulture);
        return text.Trim('-', '0', '.').Length == 0 ? "0" : text;
    }
}
