using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Statistics.Spatial;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Coverage of a bound on simulated fields.</summary>
internal static class SelfTest
{
    private const int MostSide = 12;
    private const int MostBlocks = 144;
    private const int Replicates = 40;

    public static CoverageSelfTest? Run(
        ThicknessMap map,
        BlockPartition partition,
        SpatialStructure structure,
        ExtremeSettings settings,
        IReadOnlyList<ShapeRule> rules
    )
    {
        if (structure.AlongModel is not { } along || structure.AroundModel is not { } around)
            return null;
        double[] walls = ExtremeStatements.Subsample(map);
        Func<double, double> loss = Marginal(walls, settings.ReferenceWallMetres);
        int cellsAlong = Math.Clamp((int)(partition.AlongMetres / map.Axes.AlongPitchMetres), 1, MostSide);
        int cellsAround = Math.Clamp((int)(partition.AroundMetres / map.Axes.AroundPitchMetres), 1, MostSide);
        (int blocksAlong, int blocksAround) = Shape(partition);
        var simulator = new FieldSimulator(
            blocksAlong * cellsAlong,
            blocksAround * cellsAround,
            partition.AlongMetres / cellsAlong,
            partition.AroundMetres / cellsAround,
            along,
            around
        );
        int draws = (settings.SelfTestTrials + 1) / 2;
        int fields = 2 * draws;
        var maxima = new double[fields][];
        Parallel.For(
            0,
            draws,
            draw =>
            {
                (double[] first, double[] second) = simulator.Draw(settings.Seed + 3, draw);
                maxima[2 * draw] = Maxima(first, blocksAlong, blocksAround, cellsAlong, cellsAround, loss);
                maxima[2 * draw + 1] = Maxima(second, blocksAlong, blocksAround, cellsAlong, cellsAround, loss);
            }
        );
        int blocks = blocksAlong * blocksAround;
        double further = Math.Min(
            settings.TargetAreaSquareMetres / partition.MeanAreaSquareMetres,
            fields * blocks / 10.0
        );
        double[] pool = maxima.SelectMany(m => m).Order().ToArray();
        var covered = new double[fields];
        Parallel.For(
            0,
            fields,
            field =>
            {
                double bound = rules.Max(rule => Bound(maxima[field], rule, further, settings, field));
                double below = Count(pool, bound) - maxima[field].Count(m => m <= bound);
                covered[field] = Math.Pow(below / (pool.Length - blocks), further);
            }
        );
        Describe.WeightedMoments moments = Describe.WeightedMoments.Of(covered);
        return new CoverageSelfTest(
            fields,
            blocks,
            further,
            settings.Confidence,
            moments.Mean,
            moments.StandardDeviation / Math.Sqrt(fields),
            "block minima, " + string.Join(" or ", rules.Select(r => r.Name)) + ", the thinner"
        );
    }

    private static double Bound(double[] values, ShapeRule rule, double further, ExtremeSettings settings, int field)
    {
        var sample = new BlockSample(values);
        ExtremeFit fit = GevFitter.MaximumLikelihood(sample, rule, false);
        IReadOnlyList<GeneralisedExtremeValue> replicates = LevelIntervals.Replicates(
            sample,
            fit,
            Replicates,
            settings.Seed + 4 + (ulong)field
        );
        return LevelIntervals.PredictiveUpper(replicates, further, settings.Confidence);
    }

    private static int Count(double[] ascending, double bound)
    {
        int place = Array.BinarySearch(ascending, bound);
        if (place < 0)
            return ~place;
        while (place < ascending.Length && ascending[place] <= bound)
            place++;
        return place;
    }

    private static double[] Maxima(
        double[] field,
        int blocksAlong,
        int blocksAround,
        int cellsAlong,
        int cellsAround,
        Func<double, double> loss
    )
    {
        var maxima = new double[blocksAlong * blocksAround];
        Array.Fill(maxima, double.NegativeInfinity);
        int columns = blocksAround * cellsAround;
        for (int k = 0; k < field.Length; k++)
        {
            int block = k / columns / cellsAlong * blocksAround + k % columns / cellsAround;
            maxima[block] = Math.Max(maxima[block], field[k]);
        }
        // The transform is monotone: it is enough to transform the maxima.
        for (int k = 0; k < maxima.Length; k++)
            maxima[k] = loss(maxima[k]);
        return maxima;
    }

    /// <summary>Loss at a standard normal score: the measured distribution, for the thinnest 0.1 % to 2 % a fitted Pareto tail.</summary>
    private static Func<double, double> Marginal(double[] ascendingWalls, double reference)
    {
        int n = ascendingWalls.Length;
        // The 400 thinnest carry the tail: a lower threshold would mix sound metal into it.
        double share = Math.Clamp(400.0 / n, 1e-3, 0.02);
        int tail = (int)(share * n);
        double threshold = reference - ascendingWalls[Math.Min(tail, n - 1)];
        GeneralisedPareto? pareto = null;
        if (tail >= 30)
        {
            int stride = 1 + tail / 2000;
            double[] losses = Enumerable
                .Range(0, tail)
                .Where(k => k % stride == 0)
                .Select(k => reference - ascendingWalls[k])
                .ToArray();
            if (losses.Count(v => v > threshold) >= 3)
                pareto = ParetoFitter.MaximumLikelihood(losses, threshold, ShapeRule.Penalised, false).Distribution;
        }
        return score =>
        {
            double above = NormalDistribution.Below(-score);
            if (pareto is { } distribution && above < share)
                return distribution.AtExceedance(above / share);
            // Between order statistics: linear, so that equal scores alone give equal losses.
            double place = Math.Clamp(above * n - 0.5, 0, n - 1);
            int low = Math.Min((int)place, n - 2);
            return n == 1
                ? reference - ascendingWalls[0]
                : reference - (ascendingWalls[low] + (place - low) * (ascendingWalls[low + 1] - ascendingWalls[low]));
        };
    }

    private static (int Along, int Around) Shape(BlockPartition partition)
    {
        int along = partition.AlongBlocks;
        int around = partition.AroundBlocks;
        while (along * around > MostBlocks)
            if (along > around)
                along = (along + 1) / 2;
            else
                around = (around + 1) / 2;
        return (along, around);
    }
}
