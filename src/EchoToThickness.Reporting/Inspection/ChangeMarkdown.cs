using EchoToThickness.Statistics.Change;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The section of the page about change between surveys.</summary>
internal static class ChangeMarkdown
{
    public static void Write(IReadOnlyList<SurveyChange> changes, Action<FormattableString> line)
    {
        if (changes.Count == 0)
            return;
        line($"\n## Change between surveys");
        foreach (SurveyChange c in changes)
        {
            Registration r = c.Registration;
            line(
                $"\n### Since {c.Date} ({c.Term}, {c.Years:0.00} years)\n\n{(c.IsRegistered ? "Laid on the earlier survey by" : "Not laid on the earlier survey; the correlation would say")} {r.AlongMetres * 1e3:0.00} mm along, {r.AroundMetres * 1e3:0.00} mm around, stretch {r.Stretch:0.000%}; correlation {r.Correlation:0.000} there, {r.CorrelationUnmoved:0.000} without. {r.Note}"
            );
            line(
                $"\n{c.SignificantCells} of {c.Cells} cells changed ({StatisticsMarkdown.Area(c.SignificantAreaSquareMetres)}), of which no more than {c.Field.Settings.FalseDiscoveryRate:0.#%} are expected to be false."
            );
            line(
                $"\n| zone | cells changed | mean | deviation without noise | 95 % of the area below | of one cell, k = 1 | seems to grow |\n|---|---|---|---|---|---|---|"
            );
            foreach (RateSummary z in c.Zones)
                line(
                    $"| {z.Name} | {z.SignificantCells} of {z.Cells} | {Rate(z.MeanMetresPerYear)} | {Rate(z.TrueDeviationMetresPerYear)} | {Rate(z.UpperMetresPerYear)} | {Rate(z.UncertaintyMetresPerYear)} | {z.GrowingFraction:0.0%} |"
                );
        }
    }

    internal static string Rate(double metresPerYear) =>
        double.IsFinite(metresPerYear)
            ? (metresPerYear * 1e3).ToString("0.000", System.Globalization.CultureInfo.InvariantCulture) + " mm/year"
            : "none";
}
