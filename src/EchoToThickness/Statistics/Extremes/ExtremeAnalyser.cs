using System.Globalization;
using EchoToThickness.Statistics.Spatial;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>From a map to a statement about the metal that nobody scanned, or to the reason why there is none.</summary>
public static class ExtremeAnalyser
{
    /// <summary>Analyses a map.</summary>
    /// <param name="map">A map of one population: extrados, intrados and tangents usually are not one.</param>
    /// <param name="settings">How.</param>
    /// <param name="structure">Spatial structure of the same map; null computes it.</param>
    /// <exception cref="StatisticsException">A setting is outside its range, or no cell was measured.</exception>
    public static ExtremeAnalysis Analyse(
        ThicknessMap map,
        ExtremeSettings settings,
        SpatialStructure? structure = null
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(settings);
        Check(map, settings);
        structure ??= SpatialAnalyser.Analyse(map);
        var refusals = new List<string>();
        var cautions = new List<string>();
        (List<BlockChoice> sizes, BlockPartition? partition) = ChooseBlocks(map, settings, structure, refusals);
        if (partition is null)
            return Result(settings, structure, refusals, cautions, [], sizes, [], null);
        IReadOnlyList<TestOutcome> tests = Tests(map, partition, settings);
        TestOutcome[] made = tests.Where(t => !double.IsNaN(t.Probability)).ToArray();
        foreach (TestOutcome test in made)
            if (test.Probability < settings.Significance / made.Length)
                refusals.Add(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The blocks are not one population of independent values: {test.Name} (p = {test.Probability:0.0000})."
                    )
                );
        refusals.AddRange(structure.Notes);
        List<ExtremeStatement> statements = Statements(map, partition, settings, structure, cautions);
        ExtremeStatement thinnest = statements[0];
        GoodnessOfFit? fit = statements.FirstOrDefault(s => s.Fit is not null)?.Fit;
        if (fit is not null && fit.AndersonDarlingProbability < settings.Significance / 2)
            refusals.Add(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The extreme-value distribution does not fit the block minima (Anderson-Darling p = {fit.AndersonDarlingProbability:0.000})."
                )
            );
        CoverageSelfTest? selfTest =
            settings.SelfTestTrials > 0
                ? SelfTest.Run(
                    map,
                    partition,
                    structure,
                    settings,
                    partition.Blocks.Count < settings.LeastBlocksForShape
                        ? [ShapeRule.Gumbel]
                        : [ShapeRule.Gumbel, ShapeRule.Penalised]
                )
                : null;
        Judge(map, settings, sizes, thinnest, selfTest, refusals, cautions);
        return Result(settings, structure, refusals, cautions, tests, sizes, statements, selfTest);
    }

    private static (List<BlockChoice>, BlockPartition?) ChooseBlocks(
        ThicknessMap map,
        ExtremeSettings settings,
        SpatialStructure structure,
        List<string> refusals
    )
    {
        var sizes = new List<BlockChoice>();
        BlockPartition? chosen = null;
        double along = settings.BlockCorrelationMultiple * structure.AlongCorrelationMetres;
        double around = settings.BlockCorrelationMultiple * structure.AroundCorrelationMetres;
        // Blocks need enough cells for their minimum to be an extreme: at least 5 by 5, and not more blocks than 400.
        double grow = Math.Max(
            1,
            Math.Max(5 * map.Axes.AlongPitchMetres / along, 5 * map.Axes.AroundPitchMetres / around)
        );
        double total = map.AlongCount * map.Axes.AlongPitchMetres * map.AroundCount * map.Axes.AroundPitchMetres;
        grow = Math.Max(grow, Math.Sqrt(total / (400 * along * around)));
        foreach (double multiple in settings.BlockLadder)
        {
            BlockPartition partition = BlockPartition.Of(
                map,
                along * grow * multiple,
                around * grow * multiple,
                settings.LeastMeasuredFraction
            );
            BlockChoice choice = Try(map, partition, settings, chosen is not null);
            if (choice.IsChosen)
                chosen = partition;
            sizes.Add(choice);
            if (partition.Blocks.Count < settings.LeastBlocks)
                break;
        }
        if (chosen is null)
            refusals.Add(Refusal(sizes, settings));
        return (sizes, chosen);
    }

    private static string Refusal(List<BlockChoice> sizes, ExtremeSettings settings)
    {
        BlockChoice first = sizes[0];
        if (first.Blocks < settings.LeastBlocks)
            return string.Create(
                CultureInfo.InvariantCulture,
                $"Blocks with enough measured cells at the smallest size of {first.AlongMetres * 1e3:0} mm by {first.AroundMetres * 1e3:0} mm: {first.Blocks}; needed are {settings.LeastBlocks}. Scan more, or say less."
            );
        return sizes.All(s => double.IsNaN(s.NeighbourProbability))
            ? "All block minima are equal: there is no tail to follow."
            : "Neighbouring blocks resemble each other at every size that leaves enough blocks: the walls vary over distances too long for this map.";
    }

    private static BlockChoice Try(ThicknessMap map, BlockPartition partition, ExtremeSettings settings, bool isDecided)
    {
        int count = partition.Blocks.Count;
        var choice = new BlockChoice
        {
            AlongMetres = partition.AlongMetres,
            AroundMetres = partition.AroundMetres,
            Blocks = count,
            ScaleMetres = double.NaN,
            PlugInBoundMetres = double.NaN,
            NeighbourProbability = double.NaN,
            Reason = "too few blocks",
        };
        if (count < settings.LeastBlocks)
            return choice;
        BlockSample sample = BlockLosses.All(map, partition, settings.ReferenceWallMetres);
        if (!sample.Values.ContainsAnyExcept(sample.Values[0]))
            return choice with { Reason = "all block minima are equal" };
        GeneralisedExtremeValue d = GevFitter.MaximumLikelihood(sample, ShapeRule.Gumbel, false).Distribution;
        TestOutcome neighbours = Neighbours(partition, sample, settings);
        double units = settings.TargetAreaSquareMetres / partition.MeanAreaSquareMetres;
        bool independent = !(neighbours.Probability < settings.Significance / 2);
        return choice with
        {
            ScaleMetres = d.Scale,
            PlugInBoundMetres = settings.ReferenceWallMetres - d.AtHazard(-Math.Log(settings.Confidence) / units),
            NeighbourProbability = neighbours.Probability,
            IsChosen = independent && !isDecided,
            Reason =
                !independent ? "neighbouring blocks resemble each other"
                : isDecided ? "larger than needed; for the stability of the bound"
                : "smallest size with independent neighbours",
        };
    }

    private static TestOutcome Neighbours(BlockPartition partition, BlockSample sample, ExtremeSettings settings) =>
        HomogeneityTests.Neighbours(
            "neighbouring blocks resemble each other (Moran)",
            sample.Values,
            partition.NeighbourPairs(),
            settings.Permutations,
            settings.Seed + 5
        );

    private static IReadOnlyList<TestOutcome> Tests(
        ThicknessMap map,
        BlockPartition partition,
        ExtremeSettings settings
    )
    {
        BlockSample sample = BlockLosses.All(map, partition, settings.ReferenceWallMetres);
        double[] along = partition.Blocks.Select(b => (double)b.Along).ToArray();
        int bands = Math.Min(4, partition.AlongBlocks);
        int sectors = Math.Min(4, partition.AroundBlocks);
        var tests = new List<TestOutcome>
        {
            HomogeneityTests.Trend("losses grow or shrink along (Spearman)", sample.Values, along),
            HomogeneityTests.KruskalWallis(
                "bands along differ (Kruskal-Wallis)",
                sample.Values,
                partition.Blocks.Select(b => b.Along * bands / partition.AlongBlocks).ToArray()
            ),
            HomogeneityTests.KruskalWallis(
                "sectors around differ (Kruskal-Wallis)",
                sample.Values,
                partition.Blocks.Select(b => b.Around * sectors / partition.AroundBlocks).ToArray()
            ),
            HomogeneityTests.Runs(
                "runs above and below the median, line by line to and fro",
                Serpentine(partition, sample)
            ),
            Neighbours(partition, sample, settings),
        };
        if (!partition.WrapsAround)
            tests.Add(
                HomogeneityTests.Trend(
                    "losses grow or shrink around (Spearman)",
                    sample.Values,
                    partition.Blocks.Select(b => (double)b.Around).ToArray()
                )
            );
        return tests;
    }

    private static double[] Serpentine(BlockPartition partition, BlockSample sample)
    {
        double[] values = sample.Values.ToArray();
        return Enumerable
            .Range(0, values.Length)
            .OrderBy(k => partition.Blocks[k].Along)
            .ThenBy(k => partition.Blocks[k].Along % 2 == 0 ? partition.Blocks[k].Around : -partition.Blocks[k].Around)
            .Select(k => values[k])
            .ToArray();
    }

    private static List<ExtremeStatement> Statements(
        ThicknessMap map,
        BlockPartition partition,
        ExtremeSettings settings,
        SpatialStructure structure,
        List<string> cautions
    )
    {
        var rules = new List<ShapeRule> { ShapeRule.Gumbel };
        if (partition.Blocks.Count >= settings.LeastBlocksForShape)
            rules.Add(ShapeRule.Penalised);
        else
            cautions.Add(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{partition.Blocks.Count} blocks are too few to estimate a shape: it is held at 0 (Gumbel)."
                )
            );
        var statements = new List<ExtremeStatement>();
        foreach (ShapeRule rule in rules)
        {
            statements.Add(ExtremeStatements.FromBlocks(map, partition, settings, rule, false));
            if (!map.WrongEchoProbability.IsEmpty)
                statements.Add(ExtremeStatements.FromBlocks(map, partition, settings, rule, true));
        }
        if (ExtremeStatements.FromPeaks(map, structure, settings) is { } peaks)
            statements.Add(peaks);
        else
            cautions.Add(
                "No threshold leaves enough clusters that a Pareto tail fits: the blocks have no second opinion."
            );
        return statements.OrderBy(s => s.LowerBoundMetres).ToList();
    }

    private static void Judge(
        ThicknessMap map,
        ExtremeSettings settings,
        List<BlockChoice> sizes,
        ExtremeStatement thinnest,
        CoverageSelfTest? selfTest,
        List<string> refusals,
        List<string> cautions
    )
    {
        CultureInfo text = CultureInfo.InvariantCulture;
        if (selfTest is null)
            cautions.Add("The coverage of the bound was not tested on simulated fields.");
        else if (selfTest.Coverage + 2 * selfTest.StandardError < settings.Confidence - 0.1)
            refusals.Add(
                string.Create(
                    text,
                    $"On fields simulated from the fitted variogram the bound covers {selfTest.Coverage:0.00} instead of {settings.Confidence:0.00}."
                )
            );
        else if (selfTest.Coverage + 2 * selfTest.StandardError < settings.Confidence)
            cautions.Add(
                string.Create(
                    text,
                    $"On fields simulated from the fitted variogram the bound covers {selfTest.Coverage:0.000} +- {selfTest.StandardError:0.000} instead of {settings.Confidence:0.00}."
                )
            );
        if (thinnest.LowerBoundMetres <= 0)
            refusals.Add("The bound reaches zero wall: the interval is too wide to be of use.");
        double measured = 0;
        for (int k = 0; k < map.Count; k++)
            if (map.IsMeasured(k))
                measured += map.AreaSquareMetres[k];
        double share = measured / (measured + settings.TargetAreaSquareMetres);
        // Practical guide of J. Jpn Soc. Corros. Eng. 43 (1994) 258: about 3 % of the area, return period below 500.
        if (share < 0.03)
            cautions.Add(
                string.Create(text, $"Only {share:P1} of the area was measured; practice asks for about 3 %.")
            );
        if (thinnest.Units > 500)
            cautions.Add(string.Create(text, $"The return period of {thinnest.Units:0} blocks exceeds 500."));
        double[] bounds = sizes
            .Where(s => !double.IsNaN(s.PlugInBoundMetres))
            .Select(s => s.PlugInBoundMetres)
            .ToArray();
        double width = thinnest.ReturnWallMetres - thinnest.LowerBoundMetres;
        if (bounds.Length > 1 && bounds.Max() - bounds.Min() > width)
            cautions.Add(
                string.Create(
                    text,
                    $"The bound depends on the block size: {bounds.Min() * 1e3:0.00} to {bounds.Max() * 1e3:0.00} mm over the sizes tried."
                )
            );
    }

    private static ExtremeAnalysis Result(
        ExtremeSettings settings,
        SpatialStructure structure,
        List<string> refusals,
        List<string> cautions,
        IReadOnlyList<TestOutcome> tests,
        List<BlockChoice> sizes,
        List<ExtremeStatement> statements,
        CoverageSelfTest? selfTest
    )
    {
        ExtremeStatement? headline = null;
        if (refusals.Count == 0 && statements.Count > 0)
        {
            headline = statements[0];
            if (settings.Overrule is { } overrule)
            {
                headline =
                    statements.FirstOrDefault(s => s.Label == overrule.Label)
                    ?? throw new StatisticsException(
                        $"No result is labelled \"{overrule.Label}\".",
                        "extreme settings, Overrule",
                        "choose one of: " + string.Join("; ", statements.Select(s => s.Label))
                    );
                cautions.Add($"The headline was overruled by {overrule.By}: {overrule.Reason}");
            }
        }
        return new ExtremeAnalysis
        {
            Settings = settings,
            Verdict =
                refusals.Count > 0 ? ExtremeVerdict.NotSupported
                : cautions.Count > 0 ? ExtremeVerdict.SupportedWithCaution
                : ExtremeVerdict.Supported,
            Reasons = [.. refusals, .. cautions],
            Tests = tests,
            BlockSizes = sizes,
            Statements = statements,
            Headline = headline,
            SelfTest = selfTest,
            Structure = structure,
        };
    }

    private static void Check(ThicknessMap map, ExtremeSettings settings)
    {
        if (map.MeasuredCount == 0)
            throw new StatisticsException(
                "No cell was measured.",
                "map, layer status",
                "measure the stack again, or choose another part of the map"
            );
        if (!(settings.TargetAreaSquareMetres > 0) || !(settings.ReferenceWallMetres > 0))
            throw new StatisticsException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Target area {settings.TargetAreaSquareMetres} m2, reference wall {settings.ReferenceWallMetres} m."
                ),
                "extreme settings",
                "give both above zero"
            );
        if (!(settings.Confidence is > 0.5 and < 1) || !(settings.Significance is > 0 and < 0.5))
            throw new StatisticsException(
                "The confidence must lie between 0.5 and 1, the significance between 0 and 0.5.",
                "extreme settings",
                "0.95 and 0.05 are usual"
            );
        if (settings.Overrule is { } overrule && (overrule.Reason.Length == 0 || overrule.By.Length == 0))
            throw new StatisticsException(
                "An overruled headline needs a reason and a name.",
                "extreme settings, Overrule",
                "say why and who"
            );
    }
}
