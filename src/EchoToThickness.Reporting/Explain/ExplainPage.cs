using System.Globalization;
using System.Text;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Reporting.Explain;

/// <summary>One cell's decisions as a page of text, stage by stage, at most 80 columns wide.</summary>
public static class ExplainPage
{
    /// <summary>The page: what <c>ett explain</c> prints and what the workbench shows.</summary>
    /// <param name="trace">Every decision about the cell.</param>
    /// <param name="plan">The plan it was measured with.</param>
    /// <param name="budget">Rows of <see cref="CellBudget"/>.</param>
    public static string Of(
        MeasurementTrace trace,
        MeasurementPlan plan,
        IReadOnlyList<(string Source, double Metres)> budget
    )
    {
        var page = new StringBuilder();
        Heading(page, trace, plan.Stack);
        foreach (IGrouping<string, (string Stage, string Text)> stage in Consecutive(trace.Steps))
        {
            page.Append('\n').Append(stage.Key).Append('\n');
            foreach ((_, string text) in stage)
                page.Append(TextLayout.Wrap(text, TextLayout.Columns, 2, 2));
        }
        Echoes(page, trace);
        Hypotheses(page, trace);
        Velocity(page, plan);
        Budget(page, trace.Result, budget);
        return page.ToString();
    }

    private static void Heading(StringBuilder page, MeasurementTrace trace, StackInfo stack)
    {
        CellResult result = trace.Result;
        string place = string.Create(CultureInfo.InvariantCulture, $"scan position {trace.Scan}, beam {trace.Beam}");
        if (stack.ScanPositionsMetres is { } scans)
            place += $", {StatusWords.Millimetres(scans[trace.Scan], 1)} along the scan";
        if (stack.IndexPositionsMetres is { } beams)
            place += $", {StatusWords.Millimetres(beams[trace.Beam], 1)} along the index axis";
        var rows = new List<(string, string)>
        {
            ("stack", stack.Name),
            ("cell", place),
            ("status", StatusWords.Of(result.Status)),
        };
        if (!double.IsNaN(result.ThicknessMetres))
            rows.Add(
                (
                    "wall",
                    $"{StatusWords.Millimetres(result.ThicknessMetres)} +- {StatusWords.Millimetres(result.UncertaintyMetres)} (k = 1)"
                )
            );
        if (!double.IsNaN(result.ReflectorDepthMetres))
            rows.Add(("reflector", $"at {StatusWords.Millimetres(result.ReflectorDepthMetres)}"));
        if (result.PairedOrders != CellResult.NoPair)
            rows.Add(("pair", $"{Order(result.PairedOrders & 0xF)} to {Order(result.PairedOrders >> 4)}"));
        if (!double.IsNaN(result.RunnerUpThicknessMetres))
            rows.Add(
                (
                    "runner-up",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{StatusWords.Millimetres(result.RunnerUpThicknessMetres)}, margin {result.Margin:F2} (0 a tie, 1 no rival)"
                    )
                )
            );
        foreach (string note in StatusWords.Notes(result.Notes))
            rows.Add(("note", note));
        page.Append(TextLayout.List(rows, TextLayout.Columns, 0));
    }

    private static void Echoes(StringBuilder page, MeasurementTrace trace)
    {
        if (trace.Echoes.Count == 0)
            return;
        page.Append("\nCandidate echoes\n");
        page.Append("      time us   % of scale  sign    SNR dB  role\n");
        foreach (EchoTrace echo in trace.Echoes)
        {
            string sign = echo.Polarity switch
            {
                > 0 => "same",
                < 0 => "inv.",
                _ => "-",
            };
            page.Append(
                CultureInfo.InvariantCulture,
                $"  {(echo.Paired ? '*' : ' ')} {echo.Seconds * 1e6, 9:F4}  {echo.AmplitudeFraction * 100, 10:F2}  {sign, -4}  {echo.SignalToNoiseDecibels, 8:F1}  {echo.Role}\n"
            );
        }
        page.Append("  * the wall rests on it; sign against the interface echo\n");
    }

    private static void Hypotheses(StringBuilder page, MeasurementTrace trace)
    {
        if (trace.Hypotheses.Count == 0)
            return;
        page.Append("\nWhat was considered\n");
        foreach (HypothesisTrace hypothesis in trace.Hypotheses)
        {
            string line = string.Create(
                CultureInfo.InvariantCulture,
                $"{StatusWords.Millimetres(hypothesis.ThicknessMetres)}, score {hypothesis.Score:F2}: {hypothesis.Name}. {hypothesis.Reason}"
            );
            page.Append(TextLayout.Wrap(line, TextLayout.Columns, 2, 2));
        }
    }

    private static void Velocity(StringBuilder page, MeasurementPlan plan)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        page.Append("\nVelocity and corrections\n");
        page.Append(
            TextLayout.Wrap(
                string.Create(
                    culture,
                    $"{plan.Velocity.MetresPerSecond:F1} +- {plan.Velocity.UncertaintyMetresPerSecond:F1} m/s: {plan.Velocity.Source}"
                ),
                TextLayout.Columns,
                2,
                2
            )
        );
        foreach (string line in plan.Velocity.Corrections)
            page.Append(TextLayout.Wrap(line, TextLayout.Columns, 2, 2));
        foreach (string line in plan.Velocity.Warnings)
            page.Append(TextLayout.Wrap("warning: " + line, TextLayout.Columns, 2, 2));
    }

    private static void Budget(
        StringBuilder page,
        in CellResult result,
        IReadOnlyList<(string Source, double Metres)> budget
    )
    {
        if (budget.Count == 0)
            return;
        page.Append("\nUncertainty budget (standard uncertainty, given that the echo is the right one)\n");
        foreach ((string source, double metres) in budget)
            page.Append(CultureInfo.InvariantCulture, $"  {source, -58}{metres * 1e6, 9:F2} um\n");
        page.Append(CultureInfo.InvariantCulture, $"  {"combined", -58}{result.UncertaintyMetres * 1e6, 9:F2} um\n");
    }

    private static string Order(int order) =>
        order == 0 ? "interface" : string.Create(CultureInfo.InvariantCulture, $"back-wall echo {order}");

    private static IEnumerable<IGrouping<string, (string Stage, string Text)>> Consecutive(
        IEnumerable<(string Stage, string Text)> steps
    ) => steps.GroupBy(step => step.Stage);
}
