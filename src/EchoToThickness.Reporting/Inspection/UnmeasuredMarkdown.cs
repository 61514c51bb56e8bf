using EchoToThickness.Statistics.Extremes;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The section of the page about metal without a measured wall.</summary>
internal static class UnmeasuredMarkdown
{
    public static void Write(StatisticsReport report, Action<FormattableString> line)
    {
        if (report.UnmeasuredHeadline is not { } headline)
            return;
        line($"\n## Unmeasured metal\n");
        if (headline.LowerBoundMetres is { } bound)
            line(
                $"**The smallest wall there lies above {Mm(bound)} with {headline.Confidence:0.#%} confidence** ({headline.Source}{(headline.Overruled is { } by ? "; " + by : "; the thinnest of all bounds that the data support")})."
            );
        else
            line(
                $"**No statement about all of it is supported**{(headline.WithoutBound.Count > 0 ? ": none for " + string.Join(", ", headline.WithoutBound) : "")}."
            );
        if (report.Extremes is { } whole)
            One("The component as one population", whole, line);
        foreach (ZoneExtremes zone in report.ZoneExtremes)
        {
            string name = StatisticsMarkdown.Word(zone.Zone.ToString());
            if (zone.Analysis is { } analysis)
                One(char.ToUpperInvariant(name[0]) + name[1..], analysis, line);
            else
                line(
                    $"\n### {char.ToUpperInvariant(name[0]) + name[1..]}\n\n{StatisticsMarkdown.Area(zone.TargetSquareMetres)}: not supported. {zone.Reason}"
                );
        }
    }

    private static void One(string title, ExtremeAnalysis analysis, Action<FormattableString> line)
    {
        line(
            $"\n### {title}\n\n{StatisticsMarkdown.Area(analysis.Settings.TargetAreaSquareMetres)}: {StatisticsMarkdown.Word(analysis.Verdict.ToString())}."
        );
        foreach (string reason in analysis.Reasons)
            line($"- {reason}");
        if (analysis.Statements.Count == 0)
            return;
        line(
            $"\n| method and cells | bound, {analysis.Settings.Confidence:0.#%} | noise taken out | undercut once on average | {analysis.Settings.Confidence:0.#%} interval of that | |\n|---|---|---|---|---|---|"
        );
        foreach (ExtremeStatement s in analysis.Statements)
        {
            LevelInterval interval = s.Intervals[^1];
            line(
                $"| {s.Label} | {Mm(s.LowerBoundMetres)} | {(s.DeconvolvedBoundMetres is { } clean ? Mm(clean) : "-")} | {Mm(s.ReturnWallMetres)} | {Mm(interval.Lower)} to {Mm(interval.Upper)} | {(ReferenceEquals(s, analysis.Headline) ? "quoted" : "")} |"
            );
        }
        ExtremeStatement first = analysis.Statements[0];
        if (first.NoiseDeviationMetres > 0)
            line(
                $"\nNoise of {first.NoiseDeviationMetres * 1e3:0.000} mm moves the first bound by {first.NoiseShiftMetres * 1e3:0.000} mm to thinner walls; bounds with the noise taken out are thicker, for information, and never quoted by themselves."
            );
        if (analysis.SelfTest is { } test)
            line(
                $"\nSelf-test: on {test.Fields} fields simulated from the fitted variogram the bound covers {test.Coverage:0.000} +- {test.StandardError:0.000}; {test.Nominal:0.000} is claimed."
            );
    }

    private static string Mm(double metres) => StatisticsMarkdown.Mm(metres);
}
