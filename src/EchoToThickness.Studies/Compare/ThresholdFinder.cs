using EchoToThickness.Studies.Resampling;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Compare;

/// <summary>Finds where a method's error leaves the bound by 3 dB as the signal-to-noise ratio falls.</summary>
internal static class ThresholdFinder
{
    /// <summary>How far error may leave the bound, decibels.</summary>
    public const double LimitDecibels = 3;

    /// <summary>Part of the cells whose loss counts as a break of its own.</summary>
    public const double LimitMissing = 0.5;

    /// <summary>Whether a swept key is the signal-to-noise ratio.</summary>
    public static bool IsSnr(SweepValue value) =>
        value.Key == "snr" || value.Key.EndsWith(".snr", StringComparison.Ordinal);

    /// <summary>The threshold of one curve.</summary>
    /// <param name="decibels">Ratios of the sweep, ascending.</param>
    /// <param name="ratio">Error over bound at each.</param>
    /// <param name="missing">Part of missing cells at each.</param>
    /// <returns>
    /// From the top of the sweep downwards, the first crossing of <see cref="LimitDecibels"/> or of <see cref="LimitMissing"/>, linear
    /// between points (error in decibels); minus infinity when there is none, plus infinity when the top point is beyond already.
    /// </returns>
    public static (double Decibels, bool ByMissing) Of(
        ReadOnlySpan<double> decibels,
        ReadOnlySpan<double> ratio,
        ReadOnlySpan<double> missing
    )
    {
        double above = double.NaN;
        double aboveMissing = double.NaN;
        for (int i = decibels.Length - 1; i >= 0; i--)
        {
            double off = 20 * Math.Log10(ratio[i]);
            bool leaves = off > LimitDecibels;
            bool vanishes = missing[i] > LimitMissing || double.IsNaN(ratio[i]);
            if (leaves || vanishes)
            {
                if (i == decibels.Length - 1)
                    return (double.PositiveInfinity, !leaves);
                double step = decibels[i + 1] - decibels[i];
                double byError = leaves
                    ? decibels[i] + step * (off - LimitDecibels) / (off - above)
                    : double.NegativeInfinity;
                double byMissing = vanishes
                    ? decibels[i] + step * (missing[i] - LimitMissing) / (missing[i] - aboveMissing)
                    : double.NegativeInfinity;
                return byMissing > byError ? (byMissing, true) : (byError, false);
            }
            above = off;
            aboveMissing = missing[i];
        }
        return (double.NegativeInfinity, false);
    }

    /// <summary>Thresholds of one source from the totals of its points or margins.</summary>
    public static IEnumerable<ThresholdRow> Rows(
        string source,
        IReadOnlyList<string> methods,
        IReadOnlyList<(CompareGroup Group, GroupTotals[] Totals)> groups,
        int resamples,
        double level
    )
    {
        var curves = groups
            .Where(g => g.Group.Values.Any(IsSnr))
            .GroupBy(g => string.Join('\n', g.Group.Values.Where(v => !IsSnr(v)).Select(v => v.Key + "=" + v.Text)));
        foreach (var curve in curves)
        {
            (CompareGroup Group, GroupTotals[] Totals)[] points =
            [
                .. curve.OrderBy(g => g.Group.Values.First(IsSnr).Number),
            ];
            double[] decibels = [.. points.Select(p => p.Group.Values.First(IsSnr).Number)];
            if (points.Length < 3)
                continue;
            for (int m = 0; m < methods.Count; m++)
            {
                int method = m;
                double[][] sums = [.. points.Select(p => p.Totals[method].Sums)];
                if (sums.All(s => s[CellSums.BoundCells] == 0))
                    continue;
                (double value, bool byMissing) = At(decibels, i => sums[i]);
                var replicates = new double[resamples];
                for (int b = 0; b < resamples; b++)
                {
                    int at = b * CellSums.Width;
                    replicates[b] = At(
                        decibels,
                        i => points[i].Totals[method].Resampled.AsSpan(at, CellSums.Width)
                    ).Decibels;
                }
                yield return new ThresholdRow
                {
                    Method = methods[m],
                    Source = source,
                    Values = [.. points[0].Group.Values.Where(v => !IsSnr(v))],
                    Decibels = new FigureValue(value, BootstrapInterval.Percentile(replicates, level)),
                    ByMissing = byMissing,
                    LowestDecibels = decibels[0],
                    HighestDecibels = decibels[^1],
                };
            }
        }
    }

    private delegate ReadOnlySpan<double> SumsOf(int point);

    private static (double Decibels, bool ByMissing) At(double[] decibels, SumsOf sumsOf)
    {
        Span<double> ratio = stackalloc double[decibels.Length];
        Span<double> missing = stackalloc double[decibels.Length];
        for (int i = 0; i < decibels.Length; i++)
        {
            ReadOnlySpan<double> sums = sumsOf(i);
            ratio[i] = CellSums.Figure(CompareFigure.BoundRatio, sums);
            missing[i] = CellSums.Figure(CompareFigure.Missing, sums);
        }
        return Of(decibels, ratio, missing);
    }
}
