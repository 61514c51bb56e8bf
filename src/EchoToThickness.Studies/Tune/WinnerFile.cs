using System.Globalization;
using System.Text;
using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>The chosen procedure as a file: TOML with comments, the evidence for it in its header.</summary>
public static class WinnerFile
{
    private const int CommentWidth = 110;

    /// <summary>The chosen procedure.</summary>
    /// <param name="report">What the search found.</param>
    public static Procedure ProcedureOf(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        Procedure whole = report.Plan.WholeOf(report.Winner.RuleSet);
        return whole with { Header = whole.Header with { Name = report.Plan.Study.Header.Name + ", tuned" } };
    }

    /// <summary>Text of the file; <c>ett measure -p</c> reads it.</summary>
    /// <param name="report">What the search found.</param>
    public static string Write(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        CultureInfo culture = CultureInfo.InvariantCulture;
        TunePlan plan = report.Plan;
        RuleSetResult winner = report.Winner;
        var text = new StringBuilder();
        void Say(string line) => Comment(text, line);

        Say($"Found by 'ett tune': {plan.Study.Header.Name}.");
        if (!report.KnowsTruth)
            Say(
                "NOT HELD AGAINST ANY KNOWN WALL. Chosen by self-consistency alone, which says nothing about accuracy."
            );
        Say(
            string.Create(
                culture,
                $"Best of {report.Ranked.Count} rule sets measured on all {plan.Cells:#,0} cells of {plan.Points.Count} {(plan.Points.Count == 1 ? "stack" : "stacks")}{(report.Dropped > 0 ? $", {report.Dropped} more dropped early" : "")}; {(plan.Study.Choice.Robust ? "chosen for the best worst small change" : "chosen for the smallest loss")}."
            )
        );
        Say("");
        for (int i = 0; i < plan.Axes.Count; i++)
            Say($"  {plan.Axes[i].Name}: {winner.RuleSet.Texts[i]}");
        Say("");
        Say("Figure: chosen (mean of the stacks, worst stack); base procedure (mean, worst).");
        for (int k = 0; k < plan.Objectives.Count; k++)
        {
            TuneFigure figure = plan.Objectives[k].Figure;
            string unit = TuneFigures.UnitOf(figure) is { Length: > 0 } known ? " " + known : "";
            string Pair(RuleSetResult r) =>
                $"{TuneFigures.Text(figure, r.Mean[k])}, {TuneFigures.Text(figure, r.Worst[k])}{unit}";
            Say($"  {TuneFigures.WordOf(figure)}: {Pair(winner)}; base {Pair(report.Base)}");
        }
        Say(
            string.Create(
                culture,
                $"Loss {winner.Loss:0.###}, largest with a small change of one key {report.Best[0].WorstLoss:0.###}; base {report.Base.Loss:0.###}."
            )
        );
        if (report.Validation is { } validation)
            Say(
                string.Create(
                    culture,
                    $"Cross-validated, leaving out {validation.LeftOut} in turn: loss {validation.Loss:0.###} on what was left out, {validation.SeenLoss:0.###} as the search sees it (optimism {validation.Optimism:0.###})."
                )
            );
        Say("Stacks, by SHA-256 (validation on these proves nothing):");
        foreach ((string name, string sha256, bool isFile) in TuningRecord.StacksOf(report))
            Say($"  {name}: {sha256}{(isFile ? "" : " (scene and seed)")}");
        Say($"Study SHA-256 {plan.StudySha256}.");
        text.Append('\n');
        return text + ProcedureText.Write(ProcedureOf(report), withComments: true);
    }

    private static void Comment(StringBuilder text, string line)
    {
        string indent = line.StartsWith("  ", StringComparison.Ordinal) ? "   " : " ";
        var row = new StringBuilder("#");
        foreach (string word in line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (row.Length + word.Length + 1 > CommentWidth && row.Length > 1)
            {
                text.Append(row).Append('\n');
                row.Clear().Append('#').Append(indent);
            }
            row.Append(row.Length == 1 ? indent : " ").Append(word);
        }
        text.Append(row).Append('\n');
    }
}
