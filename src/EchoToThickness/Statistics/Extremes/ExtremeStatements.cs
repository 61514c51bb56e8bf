using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Statistics.Spatial;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Makes single statements.</summary>
internal static class ExtremeStatements
{
    /// <summary>Noise above this share of the scale is not taken out. Our choice: eight nodes of quadrature hold that far.</summary>
    private const double LargestNoise = 0.7;

    /// <summary>Statement from block maxima.</summary>
    public static ExtremeStatement FromBlocks(
        ThicknessMap map,
        BlockPartition partition,
        ExtremeSettings settings,
        ShapeRule rule,
        bool weighed
    )
    {
        double reference = settings.ReferenceWallMetres;
        BlockSample sample = weighed
            ? BlockLosses.Weighed(map, partition, reference)
            : BlockLosses.All(map, partition, reference);
        ExtremeFit fit = GevFitter.MaximumLikelihood(sample, rule);
        double units = settings.TargetAreaSquareMetres / partition.MeanAreaSquareMetres;
        double probability = Math.Exp(-1 / units);
        IReadOnlyList<GeneralisedExtremeValue> replicates = LevelIntervals.Replicates(
            sample,
            fit,
            settings.BootstrapSamples,
            settings.Seed
        );
        LevelInterval[] intervals =
        [
            LevelIntervals.Delta(fit, probability, settings.Confidence),
            LevelIntervals.Profile(sample, fit, probability, settings.Confidence),
            LevelIntervals.Bootstrap(replicates, fit, probability, settings.Confidence),
        ];
        GeneralisedExtremeValue d = fit.Distribution;
        double noise = NoiseOf(map, partition.Blocks.Select(b => b.DeepestCells[0]));
        return new ExtremeStatement
        {
            Label = $"block minima, {rule.Name}, {(weighed ? "weighed by wrong-echo probability" : "all cells")}",
            Distribution = d,
            Units = units,
            ReturnWallMetres = reference - d.AtHazard(1 / units),
            MedianSmallestMetres = reference - d.AtHazard(Math.Log(2) / units),
            LowerBoundMetres = reference - LevelIntervals.PredictiveUpper(replicates, units, settings.Confidence),
            PlugInBoundMetres = reference - d.AtHazard(-Math.Log(settings.Confidence) / units),
            Intervals = intervals.Select(i => AsWall(i, reference)).ToArray(),
            Fit = weighed ? null : GoodnessOfFitTests.Of(sample, fit, settings.FitTrials, settings.Seed + 1),
            Count = partition.Blocks.Count,
            IsWeighed = weighed,
            NoiseDeviationMetres = noise,
            NoiseShiftMetres = noise * noise / (2 * d.Scale),
            DeconvolvedBoundMetres =
                weighed || !map.KnowsNoise ? null : Deconvolved(sample, fit, noise, units, settings),
        };
    }

    /// <summary>The bound of a fit that holds the noise; null where there is none or too much.</summary>
    private static double? Deconvolved(
        BlockSample sample,
        ExtremeFit plain,
        double noise,
        double units,
        ExtremeSettings settings
    )
    {
        if (!(noise > 0) || noise > LargestNoise * plain.Distribution.Scale)
            return null;
        var noisy = new BlockSample(sample.Values, sample.Weights, sample.Exposures, noise);
        ExtremeFit fit = GevFitter.MaximumLikelihood(noisy, plain.Rule, false);
        // A free shape needs quadrature: fewer samples, whose spread in the mixture is of the second order.
        int count = plain.Rule.IsFixed ? settings.BootstrapSamples : Math.Min(60, settings.BootstrapSamples);
        return settings.ReferenceWallMetres
            - LevelIntervals.PredictiveUpper(
                LevelIntervals.Replicates(noisy, fit, count, settings.Seed),
                units,
                settings.Confidence
            );
    }

    /// <summary>Statement from clusters below a threshold; null when no threshold leaves enough clusters that a Pareto tail fits.</summary>
    public static ExtremeStatement? FromPeaks(ThicknessMap map, SpatialStructure structure, ExtremeSettings settings)
    {
        double[] walls = Subsample(map);
        double measured = 0;
        for (int k = 0; k < map.Count; k++)
            if (map.IsMeasured(k))
                measured += map.AreaSquareMetres[k];
        // From the thinnest cells up, as long as more cells are more clusters: beyond that clusters run into each other.
        var candidates = new List<(double Threshold, IReadOnlyList<int> Cells)>();
        foreach (double share in (double[])[0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05])
        {
            double threshold = Quantiles.Of(walls, share);
            IReadOnlyList<int> cells = LossClusters.Deepest(
                map,
                threshold,
                structure.AlongCorrelationMetres,
                structure.AroundCorrelationMetres
            );
            if (candidates.Count > 0 && cells.Count <= candidates[^1].Cells.Count)
                break;
            candidates.Add((threshold, cells));
            if (cells.Count > 10 * settings.LeastClusters)
                break;
        }
        candidates.Reverse();
        foreach ((double threshold, IReadOnlyList<int> cells) in candidates)
            if (
                cells.Count >= settings.LeastClusters
                && cells.Count <= 50 * settings.LeastClusters
                && FromClusters(map, settings, threshold, cells, measured) is { } statement
            )
                return statement;
        return null;
    }

    private static ExtremeStatement? FromClusters(
        ThicknessMap map,
        ExtremeSettings settings,
        double threshold,
        IReadOnlyList<int> cells,
        double measured
    )
    {
        double reference = settings.ReferenceWallMetres;
        double[] losses = cells.Select(cell => reference - map.ThicknessMetres[cell]).ToArray();
        double level = reference - threshold;
        ParetoFit fit = ParetoFitter.MaximumLikelihood(losses, level, ShapeRule.Penalised, false);
        double ad = ParetoDistance(losses, fit.Distribution);
        const int trials = 99;
        int samples = Math.Max(trials, settings.BootstrapSamples);
        var replicates = new GeneralisedExtremeValue[samples];
        var isBeyond = new bool[samples];
        double areas = settings.TargetAreaSquareMetres / measured;
        Parallel.For(
            0,
            samples,
            k =>
            {
                var random = new StatisticsRandom(settings.Seed + 2, (ulong)k);
                // The number of clusters is Poisson; normal approximation, good enough above 30.
                int count = Math.Max(3, (int)Math.Round(losses.Length + Math.Sqrt(losses.Length) * random.Normal()));
                double[] drawn = new double[count];
                for (int j = 0; j < count; j++)
                    drawn[j] = fit.Distribution.AtExceedance(random.Uniform());
                ParetoFit again = ParetoFitter.MaximumLikelihood(drawn, level, ShapeRule.Penalised, false);
                replicates[k] = again.Distribution.OfMaximum(count * areas);
                isBeyond[k] = ParetoDistance(drawn, again.Distribution) >= ad;
            }
        );
        int beyond = isBeyond.Take(trials).Count(b => b);
        if ((1.0 + beyond) / (1 + trials) < 0.05)
            return null;
        GeneralisedExtremeValue largest = fit.Distribution.OfMaximum(losses.Length * areas);
        double[] levels = replicates.Select(d => d.AtHazard(1)).Order().ToArray();
        double half = settings.Confidence / 2;
        double noise = NoiseOf(map, cells);
        return new ExtremeStatement
        {
            Label = FormattableString.Invariant(
                $"{losses.Length} clusters below {threshold * 1e3:0.00} mm, Pareto with penalised shape, all cells"
            ),
            Distribution = largest,
            Units = 1,
            ReturnWallMetres = reference - largest.AtHazard(1),
            MedianSmallestMetres = reference - largest.AtHazard(Math.Log(2)),
            LowerBoundMetres = reference - LevelIntervals.PredictiveUpper(replicates, 1, settings.Confidence),
            PlugInBoundMetres = reference - largest.AtHazard(-Math.Log(settings.Confidence)),
            Intervals =
            [
                AsWall(
                    new LevelInterval(
                        largest.AtHazard(1),
                        Quantiles.Of(levels, 0.5 - half),
                        Quantiles.Of(levels, 0.5 + half),
                        settings.Confidence,
                        "parametric bootstrap"
                    ),
                    reference
                ),
            ],
            Fit = null,
            Count = losses.Length,
            IsWeighed = false,
            NoiseDeviationMetres = noise,
            NoiseShiftMetres = noise * noise / (2 * fit.Distribution.Scale),
            DeconvolvedBoundMetres = map.KnowsNoise ? Deconvolved(losses, fit, noise, areas, settings) : null,
        };
    }

    private static double? Deconvolved(
        double[] losses,
        ParetoFit plain,
        double noise,
        double areas,
        ExtremeSettings settings
    )
    {
        if (!(noise > 0) || noise > LargestNoise * plain.Distribution.Scale)
            return null;
        double level = plain.Distribution.Threshold;
        GeneralisedPareto fit = ParetoFitter.MaximumLikelihood(losses, level, plain.Rule, false, noise).Distribution;
        // Noise carries more values up over the threshold than down: the number without noise is smaller by this factor.
        static double Lifted(GeneralisedPareto d, double noise) => Tail(d, noise).Hazard(d.Threshold);
        static NoisyTail Tail(GeneralisedPareto d, double noise) =>
            new(new GeneralisedExtremeValue(d.Threshold, d.Scale, d.Shape), noise);
        double lifted = Lifted(fit, noise);
        Func<double, double> quantile = Tail(fit, noise).Inverse();
        var replicates = new GeneralisedExtremeValue[Math.Min(60, settings.BootstrapSamples)];
        Parallel.For(
            0,
            replicates.Length,
            k =>
            {
                var random = new StatisticsRandom(settings.Seed + 2, (ulong)k);
                int count = Math.Max(3, (int)Math.Round(losses.Length + Math.Sqrt(losses.Length) * random.Normal()));
                double[] drawn = new double[count];
                // A draw at the threshold itself, by rounding of the table, is put just above it.
                for (int j = 0; j < count; j++)
                    drawn[j] = Math.Max(quantile(random.Uniform() * lifted), Math.BitIncrement(level));
                GeneralisedPareto again = ParetoFitter
                    .MaximumLikelihood(drawn, level, plain.Rule, false, noise)
                    .Distribution;
                replicates[k] = again.OfMaximum(count * areas / Lifted(again, noise));
            }
        );
        return settings.ReferenceWallMetres - LevelIntervals.PredictiveUpper(replicates, 1, settings.Confidence);
    }

    /// <summary>
    /// Root mean square noise of cells. On an exponential tail of scale s it moves the bound by <c>u^2 / (2 s)</c>: <c>P(X + e > x) = exp(-x/s) E[exp(e/s)]</c>.
    /// </summary>
    private static double NoiseOf(ThicknessMap map, IEnumerable<int> cells)
    {
        double squares = 0;
        int count = 0;
        foreach (int cell in cells)
        {
            squares += map.NoiseUncertaintyMetres[cell] * map.NoiseUncertaintyMetres[cell];
            count++;
        }
        return count == 0 ? 0 : Math.Sqrt(squares / count);
    }

    private static LevelInterval AsWall(LevelInterval loss, double reference) =>
        new(reference - loss.Level, reference - loss.Upper, reference - loss.Lower, loss.Confidence, loss.Method);

    private static double ParetoDistance(double[] values, GeneralisedPareto distribution)
    {
        double[] p = values.Select(distribution.Cumulative).Order().ToArray();
        return GoodnessOfFitTests.AndersonDarling(p);
    }

    /// <summary>Measured walls, ascending; every n-th where there are more than 400,000.</summary>
    internal static double[] Subsample(ThicknessMap map)
    {
        int stride = 1 + map.MeasuredCount / 400_000;
        var walls = new List<double>(map.MeasuredCount / stride + 1);
        int place = 0;
        foreach (double wall in map.ThicknessMetres)
            if (!double.IsNaN(wall) && place++ % stride == 0)
                walls.Add(wall);
        double[] sorted = walls.ToArray();
        Array.Sort(sorted);
        return sorted;
    }
}
