using System.Globalization;
using System.Text;

namespace EchoToThickness.Studies.Compare;

/// <summary>A report as comma-separated values: SI units, all digits, an empty field where there is no figure.</summary>
public static class CompareCsv
{
    /// <summary>Figures: a row a group and method.</summary>
    /// <param name="report">The report.</param>
    public static string Figures(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder("kind,source,cells,method,n,left_out,clusters,measured,bound_m");
        foreach (CompareFigure figure in CompareFigures.All)
        {
            string name = CompareFigures.NameOf(figure) + (CompareFigures.UnitOf(figure) == "m" ? "_m" : "");
            text.Append(CultureInfo.InvariantCulture, $",{name},{name}_low,{name}_high");
        }
        text.Append('\n');
        foreach (CompareRow row in report.Rows)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"{KindOf(row.Group.Kind)},{CsvField.Of(row.Group.Source)},{CsvField.Of(row.Group.Words)},{CsvField.Of(row.Method)},{row.Cells},{row.LeftOut},{row.Clusters},{row.Measured},{Number(row.BoundMetres)}"
            );
            foreach (FigureValue figure in row.Figures)
                text.Append(
                    CultureInfo.InvariantCulture,
                    $",{Number(figure.Value)},{Number(figure.Interval.Low)},{Number(figure.Interval.High)}"
                );
            text.Append('\n');
        }
        return text.ToString();
    }

    /// <summary>Paired tests: a row a group and method.</summary>
    /// <param name="report">The report.</param>
    public static string Paired(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder(
            "kind,source,cells,method,reference,both_sound,rmse_ratio,rmse_ratio_low,rmse_ratio_high,wilcoxon_p,wilcoxon_p_holm,"
                + "more_gross,fewer_gross,gross_p,gross_p_holm,more_missing,fewer_missing,missing_p,missing_p_holm\n"
        );
        foreach (PairedRow row in report.Paired)
            text.Append(
                CultureInfo.InvariantCulture,
                $"{KindOf(row.Group.Kind)},{CsvField.Of(row.Group.Source)},{CsvField.Of(row.Group.Words)},{CsvField.Of(row.Method)},{CsvField.Of(row.Reference)},{row.BothSound},{Number(row.RmseRatio.Value)},{Number(row.RmseRatio.Interval.Low)},{Number(row.RmseRatio.Interval.High)},{Number(row.WilcoxonPValue)},{Number(row.WilcoxonAdjusted)},{row.MoreGross},{row.FewerGross},{Number(row.GrossPValue)},{Number(row.GrossAdjusted)},{row.MoreMissing},{row.FewerMissing},{Number(row.MissingPValue)},{Number(row.MissingAdjusted)}\n"
            );
        return text.ToString();
    }

    /// <summary>Thresholds: a row a curve and method; <c>-inf</c> and <c>inf</c> where they lie below or above the sweep.</summary>
    /// <param name="report">The report.</param>
    public static string Thresholds(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder(
            "source,cells,method,threshold_db,threshold_db_low,threshold_db_high,by_missing,lowest_db,highest_db\n"
        );
        foreach (ThresholdRow row in report.Thresholds)
        {
            string cells =
                row.Values.Count == 0 ? "all" : string.Join(", ", row.Values.Select(v => $"{v.Key} {v.Text}"));
            text.Append(
                CultureInfo.InvariantCulture,
                $"{CsvField.Of(row.Source)},{CsvField.Of(cells)},{CsvField.Of(row.Method)},{Number(row.Decibels.Value)},{Number(row.Decibels.Interval.Low)},{Number(row.Decibels.Interval.High)},{(row.ByMissing ? 1 : 0)},{Number(row.LowestDecibels)},{Number(row.HighestDecibels)}\n"
            );
        }
        return text.ToString();
    }

    /// <summary>Stated against observed chance of a wrong echo: a row a bin.</summary>
    /// <param name="report">The report.</param>
    public static string Reliability(CompareReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder(
            "source,method,lowest,highest,cells,gross,stated,observed,observed_low,observed_high\n"
        );
        foreach (ReliabilityRow row in report.Reliability)
            text.Append(
                CultureInfo.InvariantCulture,
                $"{CsvField.Of(row.Source)},{CsvField.Of(row.Method)},{Number(row.Lowest)},{Number(row.Highest)},{row.Cells},{row.Wrong},{Number(row.Stated)},{Number(row.Observed.Value)},{Number(row.Observed.Interval.Low)},{Number(row.Observed.Interval.High)}\n"
            );
        return text.ToString();
    }

    /// <summary>Run times.</summary>
    /// <param name="times">Times by method.</param>
    public static string Times(IEnumerable<MethodTime> times)
    {
        ArgumentNullException.ThrowIfNull(times);
        var text = new StringBuilder("method,seconds_per_ascan,ascans\n");
        foreach (MethodTime time in times)
            text.Append(
                CultureInfo.InvariantCulture,
                $"{CsvField.Of(time.Method)},{Number(time.SecondsPerAScan)},{time.AScans}\n"
            );
        return text.ToString();
    }

    internal static string KindOf(GroupKind kind) =>
        kind switch
        {
            GroupKind.Source => "source",
            GroupKind.Margin => "margin",
            GroupKind.Band => "wall band",
            GroupKind.Planted => "planted",
            _ => "point",
        };

    private static string Number(double value) =>
        double.IsNaN(value) ? ""
        : double.IsPositiveInfinity(value) ? "inf"
        : double.IsNegativeInfinity(value) ? "-inf"
        : value.ToString("R", CultureInfo.InvariantCulture);
}
