using System.Globalization;
using System.Text;
using EchoToThickness.Studies.Drawings;

namespace EchoToThickness.Studies.Tune;

/// <summary>A search as Markdown for people: percent, micrometres.</summary>
public static class TuneMarkdown
{
    private const string NoTruth =
        "**Without truth.** No wall was known to this search. Its figures are agreement of the procedure with itself (interface to wall with wall to "
        + "wall, neighbour with neighbour, scan with scan). A procedure can agree with itself and be wrong everywhere: nothing on this page is accuracy.";

    private static CultureInfo Culture => CultureInfo.InvariantCulture;

    /// <summary>The whole report, lines ended by line feeds.</summary>
    /// <param name="report">What the search found.</param>
    public static string Write(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        TunePlan plan = report.Plan;
        var text = new StringBuilder();
        text.Append(Culture, $"# {plan.Study.Header.Name}\n\n");
        if (plan.Study.Header.Note.Length > 0)
            text.Append(Culture, $"{plan.Study.Header.Note}\n\n");
        if (!report.KnowsTruth)
            text.Append(NoTruth).Append("\n\n");
        text.Append(
            Culture,
            $"{report.Ranked.Count} rule sets measured on all {plan.Cells:#,0} cells{(report.Dropped > 0 ? $", {report.Dropped} dropped on a part of them" : "")}. Seed {plan.Study.Header.Seed}. Rates in percent of all cells with an A-scan{(report.KnowsTruth ? " and a known wall" : "")}, lengths in micrometres. A value is the mean of the stacks and the worst stack, weighted {100 * (1 - plan.Study.Judge.WorstShare):0} to {100 * plan.Study.Judge.WorstShare:0}; the loss is the sum of the values over what costs one point: {string.Join(", ", plan.Objectives.Select(PerText))}.\n"
        );
        Chosen(text, report);
        Ranked(text, report);
        Stacks(text, report);
        Best(text, report);
        Validation(text, report);
        Sensitivity(text, report);
        Flips(text, report);
        Worst(text, report);
        if (plan.Refusals.Count > 0)
        {
            text.Append("\n## Refused combinations\n\n| combinations | reason |\n|---:|---|\n");
            foreach ((string reason, int count) in plan.Refusals)
                text.Append(Culture, $"| {count} | {reason} |\n");
        }
        if (report.Registrations.Count > 0)
            text.Append(DrawingText.Table(report.Registrations));
        text.Append("\n## Stacks used\n\n");
        foreach ((string name, string sha256, bool isFile) in TuningRecord.StacksOf(report))
            text.Append(Culture, $"- {name}: SHA-256 {sha256}{(isFile ? "" : " of scene and seed")}\n");
        text.Append(Culture, $"\nStudy SHA-256 {plan.StudySha256}.\n");
        return text.ToString();
    }

    /// <summary>The headline: base and chosen procedure side by side.</summary>
    /// <param name="report">What the search found.</param>
    public static string Headline(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        TunePlan plan = report.Plan;
        var text = new StringBuilder();
        text.Append(
            report.KnowsTruth
                ? "| figure | base | chosen |\n"
                : "| figure (self-consistency, not accuracy) | base | chosen |\n"
        );
        text.Append("|---|---:|---:|\n");
        for (int k = 0; k < plan.Objectives.Count; k++)
        {
            TuneFigure figure = plan.Objectives[k].Figure;
            text.Append(
                Culture,
                $"| {Column(figure)}, mean of stacks | {TuneFigures.Text(figure, report.Base.Mean[k])} | {TuneFigures.Text(figure, report.Winner.Mean[k])} |\n"
            );
            if (plan.Points.Count > 1)
                text.Append(
                    Culture,
                    $"| {Column(figure)}, worst stack | {TuneFigures.Text(figure, report.Base.Worst[k])} | {TuneFigures.Text(figure, report.Winner.Worst[k])} |\n"
                );
        }
        text.Append(Culture, $"| loss | {report.Base.Loss:0.###} | {report.Winner.Loss:0.###} |\n");
        return text.ToString();
    }

    private static void Chosen(StringBuilder text, TuneReport report)
    {
        TunePlan plan = report.Plan;
        text.Append("\n## The chosen rule set\n\n").Append(Headline(report)).Append("\n| key | value |\n|---|---|\n");
        for (int i = 0; i < plan.Axes.Count; i++)
            text.Append(Culture, $"| {plan.Axes[i].Name} | {report.Winner.RuleSet.Texts[i]} |\n");
        if (report.KeysAtEnds.Count > 0)
            text.Append(
                Culture,
                $"\nAt the end of the range that was given: {string.Join(", ", report.KeysAtEnds)}. A better value may lie beyond.\n"
            );
        if (plan.Objectives.Any(o => o.Limit is not null) && !report.Winner.KeepsLimits)
            text.Append("\n**No rule set keeps all limits of the study**; this one has the smallest loss.\n");
        text.Append(
            Culture,
            $"\nWhat it changes: {report.Gain.Changed:#,0} of {report.Gain.Cells:#,0} cells against the base procedure ({report.Gain.InWords(6)}).\n"
        );
        text.Append("The file: `winner.toml`.\n");
    }

    private static void Ranked(StringBuilder text, TuneReport report)
    {
        TunePlan plan = report.Plan;
        text.Append(
            Culture,
            $"\n## Ranked\n\nThe best {Math.Min(plan.Study.Report.Rows, report.Ranked.Count)} of {report.Ranked.Count}, and the base; all are in `rule-sets.csv`. Front: Pareto rank, 0 is beaten by none in everything.\n\n"
        );
        text.Append("| rank | loss | front |");
        foreach (Objective objective in plan.Objectives)
            text.Append(Culture, $" {Column(objective.Figure)} |");
        foreach (VaryAxis axis in plan.Axes)
            text.Append(Culture, $" {axis.Name} |");
        text.Append("\n|---:|---:|---:|")
            .Insert(text.Length, "---:|", plan.Objectives.Count)
            .Insert(text.Length, "---|", plan.Axes.Count)
            .Append('\n');
        for (int i = 0; i < report.Ranked.Count; i++)
        {
            RuleSetResult row = report.Ranked[i];
            bool isBase = row.RuleSet.Point.Length == 0;
            if (i >= plan.Study.Report.Rows && !isBase)
                continue;
            string mark = row.RuleSet.Sha256 == report.Winner.RuleSet.Sha256 ? " (chosen)" : "";
            text.Append(Culture, $"| {i + 1}{mark} | {row.Loss:0.###} | {row.ParetoRank} |");
            for (int k = 0; k < plan.Objectives.Count; k++)
                text.Append(Culture, $" {TuneFigures.Text(plan.Objectives[k].Figure, row.Value[k])} |");
            foreach (
                string value in isBase ? plan.Axes.Select((_, n) => n == 0 ? "base procedure" : "") : row.RuleSet.Texts
            )
                text.Append(Culture, $" {value} |");
            text.Append('\n');
        }
    }

    private static void Stacks(StringBuilder text, TuneReport report)
    {
        TunePlan plan = report.Plan;
        TuneFigure[] figures =
        [
            .. report.KnowsTruth
                ? new[]
                {
                    TuneFigure.Gross,
                    TuneFigure.GrossThick,
                    TuneFigure.Doubled,
                    TuneFigure.Halved,
                    TuneFigure.Skipped,
                    TuneFigure.InterfaceLost,
                    TuneFigure.Cycle,
                    TuneFigure.Missing,
                    TuneFigure.Bias,
                    TuneFigure.Rmse,
                    TuneFigure.RmseSound,
                    TuneFigure.P95,
                }
                : new[] { TuneFigure.Missing, TuneFigure.Jumps },
            .. plan.Objectives.Select(o => o.Figure),
        ];
        figures = [.. figures.Distinct()];
        text.Append("\n## By stack\n\n| stack | procedure | cells |");
        foreach (TuneFigure figure in figures)
            text.Append(Culture, $" {Column(figure)} |");
        text.Append("\n|---|---|---:|").Insert(text.Length, "---:|", figures.Length).Append('\n');
        for (int point = 0; point < plan.Points.Count; point++)
            foreach ((string name, RuleSetResult result) in new[] { ("base", report.Base), ("chosen", report.Winner) })
            {
                WindowScore score = result.Scores[point];
                text.Append(Culture, $"| {plan.Points[point]} | {name} | {score[ScoreCount.Cells]:#,0} |");
                foreach (TuneFigure figure in figures)
                    text.Append(Culture, $" {TuneFigures.Text(figure, score.Of(figure))} |");
                text.Append('\n');
            }
    }

    private static void Best(StringBuilder text, TuneReport report)
    {
        text.Append(
            report.Plan.Study.Choice.Robust
                ? "\n## Flat or lucky\n\nThe best rule sets, each with small changes of every ordered key. Chosen is the one whose worst small change is best.\n\n"
                : "\n## Flat or lucky\n\nThe best rule sets, each with small changes of every ordered key. Chosen is the one with the smallest loss of its own.\n\n"
        );
        text.Append("| values | loss | worst small change | small changes |\n|---|---:|---:|---:|\n");
        foreach (RobustRow row in report.Best)
            text.Append(
                Culture,
                $"| {string.Join("; ", row.Result.RuleSet.Texts)} | {row.Result.Loss:0.###} | {row.WorstLoss:0.###} | {row.Neighbours.Count} |\n"
            );
    }

    private static void Validation(StringBuilder text, TuneReport report)
    {
        text.Append("\n## Cross-validation\n\n");
        if (report.Validation is not { } validation)
        {
            text.Append("Nothing could be left out: too few parts or rule sets.\n");
            return;
        }
        text.Append(
            Culture,
            $"{Capital(validation.LeftOut)} is left out in turn, the best rule set of the rest is looked up on it. Loss there {validation.Loss:0.###}; of the rule set that is best on all, {validation.SeenLoss:0.###}. The search makes itself look {validation.Optimism:0.###} better than it is.\n\n| left out | loss of the best of the rest | loss of the best of all | values of the best of the rest |\n|---|---:|---:|---|\n"
        );
        RuleSetResult[] searched = [.. report.Ranked.Where(r => r.RuleSet.Point.Length > 0)];
        foreach ((string part, double loss, double seen, int chosen) in validation.Rows)
            text.Append(
                Culture,
                $"| {part} | {loss:0.###} | {seen:0.###} | {string.Join("; ", searched[chosen].RuleSet.Texts)} |\n"
            );
    }

    private static void Sensitivity(StringBuilder text, TuneReport report)
    {
        text.Append("\n## Which keys matter\n\n");
        if (report.Sensitivity is not { } sensitivity)
        {
            text.Append("Too few rule sets, or all alike: nothing can be said.\n");
            return;
        }
        text.Append(
            Culture,
            $"Shares of the variance of the logarithm of the loss over the whole space, by a surrogate that was learned from {sensitivity.RuleSets} rule sets and predicts {100 * sensitivity.LeaveOneOut:0} % of the variance of those left out{(sensitivity.LeaveOneOut < 0.5 ? ". **That is little: read the shares as hints**" : "")}. Alone: the key by itself. With others: also in company.\n\n| key | alone, % | with others, % |\n|---|---:|---:|\n"
        );
        IReadOnlyList<VaryAxis> axes = report.Plan.Axes;
        foreach (int i in Enumerable.Range(0, axes.Count).OrderByDescending(i => sensitivity.Shares.Total[i]))
            text.Append(
                Culture,
                $"| {axes[i].Name} | {100 * Math.Max(0, sensitivity.Shares.First[i]):0.0} | {100 * Math.Max(0, sensitivity.Shares.Total[i]):0.0} |\n"
            );
        var pairs = (
            from i in Enumerable.Range(0, axes.Count)
            from j in Enumerable.Range(i + 1, axes.Count - i - 1)
            orderby sensitivity.Shares.Pairs[i, j] descending
            where sensitivity.Shares.Pairs[i, j] > 0.02
            select (i, j)
        )
            .Take(5)
            .ToArray();
        if (pairs.Length > 0)
            text.Append("\nInteractions over 2 %: ")
                .AppendJoin(
                    ", ",
                    pairs.Select(p =>
                        string.Create(
                            Culture,
                            $"{axes[p.i].Name} with {axes[p.j].Name} {100 * sensitivity.Shares.Pairs[p.i, p.j]:0.0} %"
                        )
                    )
                )
                .Append(".\n");
    }

    private static void Flips(StringBuilder text, TuneReport report)
    {
        text.Append(
            "\n## Which cells flip\n\nCells of the chosen rule set that change with a small change of one key: another kind, or another echo or cycle.\n\n| change | cells changed | % | mostly |\n|---|---:|---:|---|\n"
        );
        foreach (FlipRow row in report.Flips)
            text.Append(
                Culture,
                $"| {row.Change} | {row.Changed:#,0} | {100.0 * row.Changed / Math.Max(1, row.Cells):0.000} | {row.InWords()} |\n"
            );
    }

    private static void Worst(StringBuilder text, TuneReport report)
    {
        if (report.Worst.Count == 0)
            return;
        text.Append(
            "\n## The worst A-scans\n\n| figure | stack | scan | beam | what | true, mm | read, mm |\n|---|---|---:|---:|---|---:|---:|\n"
        );
        for (int i = 0; i < report.Worst.Count; i++)
        {
            WorstCell cell = report.Worst[i];
            text.Append(
                Culture,
                $"| worst-{i + 1:00} | {TuneAnalysis.NameOf(report.Plan, cell.Point, cell.Block)} | {cell.Scan} | {cell.Beam} | {FlipRow.WordOf(cell.Kind)} | {Millimetres(cell.TruthMetres)} | {Millimetres(cell.ValueMetres)} |\n"
            );
        }
    }

    private static string Millimetres(double metres) =>
        double.IsNaN(metres) ? "-" : (metres * 1e3).ToString("0.00", Culture);

    private static string Column(TuneFigure figure) =>
        TuneFigures.UnitOf(figure) is { Length: > 0 } unit
            ? $"{TuneFigures.WordOf(figure)}, {unit}"
            : TuneFigures.WordOf(figure);

    private static string PerText(Objective objective) =>
        string.Create(
                Culture,
                $"{TuneFigures.WordOf(objective.Figure)} {objective.Per * TuneFigures.ScaleOf(objective.Figure):0.####} {TuneFigures.UnitOf(objective.Figure)}"
            )
            .TrimEnd();

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
