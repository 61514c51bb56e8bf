using EchoToThickness.Components;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Spatial;
using ComponentKind = EchoToThickness.Stacks.ComponentKind;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Statements about unmeasured metal, for the component and for its zones.</summary>
internal static class ExtremesRun
{
    private const int LeastCells = 100;

    public static IReadOnlyList<string> ZoneNames { get; } = [.. Enum.GetValues<SurfaceZone>().Select(NameOf)];

    public static SurfaceZone? ZoneNamed(string name) =>
        Enum.GetValues<SurfaceZone>().Cast<SurfaceZone?>().FirstOrDefault(z => NameOf(z!.Value) == name);

    public static string NameOf(SurfaceZone zone) => StatisticsMarkdown.Word(zone.ToString());

    /// <summary>The component as one population.</summary>
    public static ExtremeAnalysis? Whole(
        ThicknessMap map,
        MapDescription description,
        SpatialStructure? structure,
        StatisticsPlan plan,
        double? nominal
    )
    {
        double target = Target(plan, description.TotalAreaSquareMetres - description.MeasuredAreaSquareMetres, 1);
        if (!plan.Extremes.On || structure is null || !(target > 0))
            return null;
        return Analyse(
            map,
            Settings(plan, nominal ?? description.Quantiles[^1].ThicknessMetres, target, plan.Extremes.Confidence),
            structure,
            plan.Extremes.Overrules.LastOrDefault(o => o.Zone.Length == 0)
        );
    }

    /// <summary>The zones of an elbow; empty for other components.</summary>
    public static IReadOnlyList<ZoneExtremes> Zones(
        StitchedMap stitched,
        MapDescription description,
        StatisticsPlan plan,
        double? nominal
    )
    {
        if (!plan.Extremes.On || !plan.Extremes.ByZone || stitched.Raster.Surface.Kind != ComponentKind.Elbow)
            return [];
        CoverageReport coverage = Coverage.Of(stitched);
        double required = coverage.Whole.RequiredSquareMetres;
        (ZoneCoverage Coverage, double Target)[] zones =
        [
            .. coverage
                .Zones.Where(z => z.Zone is not null && z.RequiredSquareMetres > 0)
                .Select(z =>
                    (
                        z,
                        Target(plan, z.RequiredSquareMetres - z.MeasuredSquareMetres, z.RequiredSquareMetres / required)
                    )
                )
                .Where(z => z.Item2 > 1e-9),
        ];
        // So that all bounds hold together at the plan's confidence (Bonferroni).
        double confidence = 1 - (1 - plan.Extremes.Confidence) / Math.Max(1, zones.Length);
        var found = new List<ZoneExtremes>();
        foreach ((ZoneCoverage zone, double target) in zones)
        {
            SurfaceZone name = zone.Zone!.Value;
            ThicknessMap? map = stitched.ZoneMap(name);
            if (map is null || map.MeasuredCount < LeastCells)
            {
                found.Add(
                    new ZoneExtremes(
                        name,
                        zone.MeasuredSquareMetres,
                        target,
                        null,
                        FormattableString.Invariant(
                            $"{map?.MeasuredCount ?? 0} cells are measured there, {LeastCells} are the least."
                        )
                    )
                );
                continue;
            }
            if (!(WeightedMoments.Of(Walls(map)).StandardDeviation > 0))
            {
                found.Add(
                    new ZoneExtremes(name, zone.MeasuredSquareMetres, target, null, "All walls are equal: no tail.")
                );
                continue;
            }
            ExtremeAnalysis analysis = Analyse(
                map,
                Settings(plan, nominal ?? description.Quantiles[^1].ThicknessMetres, target, confidence),
                SpatialAnalyser.Analyse(map),
                plan.Extremes.Overrules.LastOrDefault(o => o.Zone == NameOf(name))
            );
            found.Add(new ZoneExtremes(name, zone.MeasuredSquareMetres, target, analysis, ""));
        }
        return found;
    }

    /// <summary>The bound to quote: the thinnest of the component's and its zones' own, where they carry all of the metal.</summary>
    public static UnmeasuredHeadline? Headline(
        ExtremeAnalysis? whole,
        IReadOnlyList<ZoneExtremes> zones,
        StatisticsPlan plan
    )
    {
        if (whole is null && zones.Count == 0)
            return null;
        string[] without = [.. zones.Where(z => z.Analysis?.Headline is null).Select(z => NameOf(z.Zone))];
        var candidates = new List<(double Bound, string Source, HeadlineOverrule? Overrule)>();
        if (whole?.Headline is { } one)
        {
            candidates.Add(
                (one.LowerBoundMetres, "the component as one population: " + one.Label, whole.Settings.Overrule)
            );
            without = [];
        }
        if (without.Length == 0)
            foreach (ZoneExtremes zone in zones)
                if (zone.Analysis?.Headline is { } headline)
                    candidates.Add(
                        (
                            headline.LowerBoundMetres,
                            $"{NameOf(zone.Zone)}: {headline.Label}",
                            zone.Analysis.Settings.Overrule
                        )
                    );
        if (candidates.Count == 0)
            return new UnmeasuredHeadline(null, plan.Extremes.Confidence, "not supported", null, without);
        (double bound, string source, HeadlineOverrule? overrule) = candidates.MinBy(c => c.Bound);
        return new UnmeasuredHeadline(
            bound,
            plan.Extremes.Confidence,
            source,
            overrule is null ? null : $"chosen by {overrule.By}: {overrule.Reason}",
            without
        );
    }

    private static ExtremeAnalysis Analyse(
        ThicknessMap map,
        ExtremeSettings settings,
        SpatialStructure structure,
        HeadlinePlan? overrule
    ) =>
        ExtremeAnalyser.Analyse(
            map,
            overrule is null
                ? settings
                : settings with
                {
                    Overrule = new HeadlineOverrule(overrule.Use, overrule.Reason, overrule.By),
                },
            structure
        );

    private static ExtremeSettings Settings(StatisticsPlan plan, double reference, double target, double confidence) =>
        new()
        {
            ReferenceWallMetres = reference,
            TargetAreaSquareMetres = target,
            Confidence = confidence,
            SelfTestTrials = plan.Extremes.SelfTestFields,
            Seed = (ulong)plan.Extremes.Seed,
        };

    private static double Target(StatisticsPlan plan, double unmeasured, double share) =>
        plan.Extremes.TargetSquareMillimetres > 0 ? plan.Extremes.TargetSquareMillimetres * 1e-6 * share : unmeasured;

    private static double[] Walls(ThicknessMap map)
    {
        var walls = new List<double>(map.MeasuredCount);
        foreach (double wall in map.ThicknessMetres)
            if (!double.IsNaN(wall))
                walls.Add(wall);
        return [.. walls];
    }
}
