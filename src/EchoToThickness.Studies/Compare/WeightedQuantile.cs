namespace EchoToThickness.Studies.Compare;

/// <summary>The 95th percentile of absolute errors, of the data and of resamples, linear between order statistics.</summary>
internal sealed class WeightedQuantile
{
    private const double Fraction = 0.95;
    private readonly double[] _sorted;
    private readonly int[] _cluster;

    /// <summary>Sorts once.</summary>
    public WeightedQuantile(CellSample sample)
    {
        int[] measured = Enumerable
            .Range(0, sample.Cluster.Length)
            .Where(i => !double.IsNaN(sample.ErrorMetres[i]))
            .ToArray();
        _sorted = Array.ConvertAll(measured, i => Math.Abs(sample.ErrorMetres[i]));
        _cluster = Array.ConvertAll(measured, i => sample.Cluster[i]);
        Array.Sort(_sorted, _cluster);
    }

    /// <summary>Absolute errors, ascending.</summary>
    public ReadOnlySpan<double> SortedMetres => _sorted;

    /// <summary>The percentile of sorted values; NaN when there is none.</summary>
    public static double Of(ReadOnlySpan<double> sorted)
    {
        if (sorted.IsEmpty)
            return double.NaN;
        double position = Fraction * (sorted.Length - 1);
        int below = (int)position;
        int above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
    }

    /// <summary>The percentile when each cluster counts so often.</summary>
    public double Of(ReadOnlySpan<ushort> counts)
    {
        long total = 0;
        foreach (int cluster in _cluster)
            total += counts[cluster];
        if (total == 0)
            return double.NaN;
        double position = Fraction * (total - 1);
        long below = (long)position;
        // From the top: the values at ranks below and below + 1, counted from 0.
        long rank = total;
        double above = _sorted[^1];
        for (int i = _sorted.Length - 1; i >= 0; i--)
        {
            ushort weight = counts[_cluster[i]];
            if (weight == 0)
                continue;
            rank -= weight;
            if (rank <= below + 1 && rank + weight > below + 1)
                above = _sorted[i];
            if (rank <= below)
                return _sorted[i] + (position - below) * (Math.Max(above, _sorted[i]) - _sorted[i]);
        }
        return _sorted[0];
    }
}
