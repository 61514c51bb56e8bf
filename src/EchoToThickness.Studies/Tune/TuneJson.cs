using System.Text.Json;
using EchoToThickness.Studies.Drawings;

namespace EchoToThickness.Studies.Tune;

/// <summary>A search as JSON: SI units, all digits; numbers that are not finite are null.</summary>
public static class TuneJson
{
    /// <summary>The whole report.</summary>
    /// <param name="report">What the search found.</param>
    public static string Write(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            json.WriteStartObject();
            json.WriteString("study", report.Plan.Study.Header.Name);
            json.WriteString("study_sha256", report.Plan.StudySha256);
            json.WriteBoolean("truth_known", report.KnowsTruth);
            json.WriteString(
                "figures_are",
                report.KnowsTruth ? "errors against known walls" : "self-consistency without truth; not accuracy"
            );
            json.WriteNumber("cells", report.Plan.Cells);
            json.WriteNumber("dropped_early", report.Dropped);
            Objectives(json, report);
            json.WriteString("chosen", report.Winner.RuleSet.Sha256);
            Number(json, "chosen_worst_small_change", report.Best[0].WorstLoss);
            json.WriteStartArray("rule_sets");
            foreach (RuleSetResult row in report.Ranked)
                RuleSet(json, report, row);
            json.WriteEndArray();
            Validation(json, report);
            Sensitivity(json, report);
            DrawingText.Write(json, "registrations", report.Registrations);
            json.WriteStartArray("flips");
            foreach (FlipRow row in report.Flips.Prepend(report.Gain))
            {
                json.WriteStartObject();
                json.WriteString("change", row.Change);
                json.WriteNumber("cells", row.Cells);
                json.WriteNumber("changed", row.Changed);
                json.WriteString("mostly", row.InWords(10));
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        return System.Text.Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    private static void Objectives(Utf8JsonWriter json, TuneReport report)
    {
        json.WriteStartArray("objectives");
        foreach (Objective objective in report.Plan.Objectives)
        {
            json.WriteStartObject();
            json.WriteString("figure", TuneFigures.WordOf(objective.Figure));
            json.WriteNumber("per", objective.Per);
            if (objective.Limit is { } limit)
                json.WriteNumber("limit", limit);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void RuleSet(Utf8JsonWriter json, TuneReport report, RuleSetResult row)
    {
        TunePlan plan = report.Plan;
        json.WriteStartObject();
        json.WriteString("procedure_sha256", row.RuleSet.Sha256);
        json.WriteString("origin", row.RuleSet.Origin.ToString().ToLowerInvariant());
        json.WriteNumber("pareto_rank", row.ParetoRank);
        json.WriteBoolean("keeps_limits", row.KeepsLimits);
        Number(json, "loss", row.Loss);
        json.WriteStartObject("values");
        for (int i = 0; i < row.RuleSet.Texts.Count; i++)
            json.WriteString(plan.Axes[i].Name, row.RuleSet.Texts[i]);
        json.WriteEndObject();
        json.WriteStartObject("figures");
        for (int k = 0; k < plan.Objectives.Count; k++)
        {
            json.WriteStartObject(TuneFigures.WordOf(plan.Objectives[k].Figure));
            Number(json, "mean", row.Mean[k]);
            Number(json, "worst", row.Worst[k]);
            Number(json, "value", row.Value[k]);
            json.WriteEndObject();
        }
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Validation(Utf8JsonWriter json, TuneReport report)
    {
        if (report.Validation is not { } validation)
            return;
        json.WriteStartObject("cross_validation");
        json.WriteString("left_out", validation.LeftOut);
        Number(json, "loss", validation.Loss);
        Number(json, "seen_loss", validation.SeenLoss);
        Number(json, "optimism", validation.Optimism);
        json.WriteEndObject();
    }

    private static void Sensitivity(Utf8JsonWriter json, TuneReport report)
    {
        if (report.Sensitivity is not { } sensitivity)
            return;
        json.WriteStartObject("sensitivity");
        json.WriteNumber("rule_sets", sensitivity.RuleSets);
        Number(json, "leave_one_out", sensitivity.LeaveOneOut);
        for (int i = 0; i < report.Plan.Axes.Count; i++)
        {
            json.WriteStartObject(report.Plan.Axes[i].Name);
            Number(json, "first", sensitivity.Shares.First[i]);
            Number(json, "total", sensitivity.Shares.Total[i]);
            json.WriteEndObject();
        }
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, value);
        else
            json.WriteNull(name);
    }
}
