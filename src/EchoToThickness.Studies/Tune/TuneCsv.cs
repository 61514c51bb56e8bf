using System.Globalization;
using System.Text;

namespace EchoToThickness.Studies.Tune;

/// <summary>A search as tables for other programs: SI units, all digits.</summary>
public static class TuneCsv
{
    private static CultureInfo Culture => CultureInfo.InvariantCulture;

    /// <summary>Every rule set measured on all cells, smallest loss first.</summary>
    /// <param name="report">What the search found.</param>
    public static string RuleSets(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        TunePlan plan = report.Plan;
        var text = new StringBuilder("rank,origin,chosen,loss,keeps_limits,pareto_rank");
        foreach (Objective objective in plan.Objectives)
        {
            string word = TuneFigures.WordOf(objective.Figure);
            text.Append(Culture, $",{word}_mean,{word}_worst,{word}_value");
        }
        foreach (VaryAxis axis in plan.Axes)
            text.Append(',').Append(CsvField.Of(axis.Name));
        text.Append(",procedure_sha256\n");
        for (int i = 0; i < report.Ranked.Count; i++)
        {
            RuleSetResult row = report.Ranked[i];
            text.Append(
                Culture,
                $"{i + 1},{row.RuleSet.Origin.ToString().ToLowerInvariant()},{(row.RuleSet.Sha256 == report.Winner.RuleSet.Sha256 ? 1 : 0)},{row.Loss:R},{(row.KeepsLimits ? 1 : 0)},{row.ParetoRank}"
            );
            for (int k = 0; k < plan.Objectives.Count; k++)
                text.Append(Culture, $",{row.Mean[k]:R},{row.Worst[k]:R},{row.Value[k]:R}");
            foreach (string value in row.RuleSet.Point.Length == 0 ? plan.Axes.Select(_ => "") : row.RuleSet.Texts)
                text.Append(',').Append(CsvField.Of(value));
            text.Append(Culture, $",{row.RuleSet.Sha256}\n");
        }
        return text.ToString();
    }

    /// <summary>Changes of cells between neighbouring rule sets: one row for each change and pair of kinds.</summary>
    /// <param name="report">What the search found.</param>
    public static string Flips(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder("change,cells,changed,from,to,count\n");
        foreach (FlipRow row in report.Flips.Prepend(report.Gain))
        {
            for (int from = 0; from < row.Kinds.GetLength(0); from++)
            for (int to = 0; to < row.Kinds.GetLength(1); to++)
                if (row.Kinds[from, to] > 0)
                    text.Append(
                        Culture,
                        $"{CsvField.Of(row.Change)},{row.Cells},{row.Changed},{CsvField.Of(FlipRow.WordOf((CellKind)from))},{CsvField.Of(FlipRow.WordOf((CellKind)to))},{row.Kinds[from, to]}\n"
                    );
        }
        return text.ToString();
    }

    /// <summary>Shares of the variance by key, and by pair of keys.</summary>
    /// <param name="report">What the search found.</param>
    public static string Sensitivity(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder("key,other_key,first,total,interaction\n");
        if (report.Sensitivity is not { } sensitivity)
            return text.ToString();
        IReadOnlyList<VaryAxis> axes = report.Plan.Axes;
        for (int i = 0; i < axes.Count; i++)
        {
            text.Append(
                Culture,
                $"{CsvField.Of(axes[i].Name)},,{sensitivity.Shares.First[i]:R},{sensitivity.Shares.Total[i]:R},\n"
            );
            for (int j = i + 1; j < axes.Count; j++)
                text.Append(
                    Culture,
                    $"{CsvField.Of(axes[i].Name)},{CsvField.Of(axes[j].Name)},,,{sensitivity.Shares.Pairs[i, j]:R}\n"
                );
        }
        return text.ToString();
    }
}
