using System.Globalization;
using EchoToThickness.Statistics.Assessment;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The section of the page with screening figures.</summary>
internal static class AssessmentMarkdown
{
    public static void Write(AssessmentReport? assessment, Action<FormattableString> line)
    {
        if (assessment is null)
            return;
        line($"\n## Assessment\n\nAll figures: {assessment.Caution}. Measured minima, never corrected ones, are used.");
        if (assessment.RequiredWalls.Count > 0)
            line($"\n### Required wall\n");
        foreach ((string place, AssessmentResult<RequiredWall> wall) in assessment.RequiredWalls)
            line(
                $"- {place}: {(wall.Value is { } value ? Mm(value.WithAllowanceMetres) : "refused: " + wall.Refusal)}. {wall.Basis.Statement}."
            );
        line($"\n| zone | smallest measured | required | chance to be below | |\n|---|---|---|---|---|");
        foreach (ZoneWall z in assessment.Zones)
            line(
                $"| {z.Zone} | {Mm(z.SmallestMetres)} +- {Mm(z.UncertaintyMetres)} at along {Mm(z.AlongMetres)}, around {Mm(z.AroundMetres)} | {(z.RequiredMetres is { } wall ? Mm(wall) : "none")} | {(z.ProbabilityBelow is { } p ? p.ToString("0.000", CultureInfo.InvariantCulture) : "-")} | {z.RequiredSource} |"
            );
        Strength(assessment, line);
        if (assessment.Averages.Count > 0)
            line($"\n### Thickness averaging\n");
        foreach (ProfileAverage a in assessment.Averages)
            line(
                $"- {a.Direction}: {(a.Average.Value is { } v ? string.Create(CultureInfo.InvariantCulture, $"mean over {Mm(v.LengthMetres)} {Mm(v.AveragedWallMetres)} ({(v.PassesAverage ? "reaches" : "does not reach")} the required wall), smallest {Mm(v.SmallestWallMetres)} ({(v.PassesMinimum ? "reaches" : "does not reach")} its limit); {a.MissingPlaces} places without a wall left out") : "refused: " + a.Average.Refusal)}. {a.Average.Basis.Statement}."
            );
        if (assessment.Lives.Count == 0)
            return;
        line(
            $"\n### Remaining life\n\n| zone | wall | required | rate | life | interval | next inspection at the latest | |\n|---|---|---|---|---|---|---|---|"
        );
        foreach (ZoneLife z in assessment.Lives)
            line(
                $"| {z.Zone} | {Mm(z.WallMetres)} | {Mm(z.RequiredMetres)} | {ChangeMarkdown.Rate(z.RateMetresPerYear)} +- {ChangeMarkdown.Rate(z.RateUncertaintyMetresPerYear)} ({z.RateSource}) | {(z.Life.Value is { } v ? Years(v.Years) : "refused")} | {(z.Life.Value is { } w ? $"{Years(w.LowerYears)} to {Years(w.UpperYears)}" : "")} | {(z.Life.Value is { } n ? Years(n.NextInspectionYears) : "")} | {z.Life.Refusal} |"
            );
        line($"\n{assessment.Lives[0].Life.Basis.Statement}.");
    }

    private static void Strength(AssessmentReport assessment, Action<FormattableString> line)
    {
        if (assessment.Profiles.Count == 0)
            return;
        line($"\n### Remaining strength\n");
        foreach (ProfileStrength p in assessment.Profiles)
            line(
                $"- river-bottom profile {p.Direction}, {p.Profile.PositionsMetres.Count} places, {p.Profile.MissingPlaces} without a wall left out: {Pressure(p.EffectiveArea)}. {p.EffectiveArea.Basis.Statement}."
            );
        if (assessment.Regions.Count == 0)
        {
            line($"\nRegions by level 1: none (a limit in [regions] gives them).");
            return;
        }
        line(
            $"\n| regions | on | depth | length | original | modified | effective area | |\n|---|---|---|---|---|---|---|---|"
        );
        foreach (RegionStrength r in assessment.Regions)
            line(
                $"| {string.Join(", ", r.Regions)} | {r.Place} | {Mm(r.DepthMetres)} | {Mm(r.LengthMetres)} | {Pressure(r.Original)} | {Pressure(r.Modified)} | {Pressure(r.EffectiveArea)} | {(r.ReachesDesignPressure is { } good ? good ? "reaches the design pressure" : "below the design pressure" : "")} |"
            );
        line($"\n- {assessment.Regions[0].Original.Basis.Statement}.");
        line($"- {assessment.Regions[0].Modified.Basis.Statement}.");
    }

    private static string Pressure(AssessmentResult<FailurePressure> result) =>
        result.Value is { } v
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"safe {v.SafePascals * 1e-6:0.00} MPa, failure {v.FailurePascals * 1e-6:0.00} MPa"
            )
            : "refused: " + result.Refusal;

    private static string Years(double years) =>
        double.IsFinite(years) ? years.ToString("0.0", CultureInfo.InvariantCulture) + " years" : "no end";

    private static string Mm(double metres) => StatisticsMarkdown.Mm(metres);
}
