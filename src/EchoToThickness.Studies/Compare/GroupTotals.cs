namespace EchoToThickness.Studies.Compare;

/// <summary>One method on one group: sums, sums of every resample, absolute errors. Points add themselves one by one.</summary>
internal sealed class GroupTotals(int resamples)
{
    private readonly List<double> _sizes = [];

    /// <summary>Sums of the data.</summary>
    public double[] Sums { get; } = new double[CellSums.Width];

    /// <summary>Shape [resample, sum].</summary>
    public double[] Resampled { get; } = new double[(long)resamples * CellSums.Width];

    /// <summary>Clusters with at least one cell that counts.</summary>
    public long Clusters { get; private set; }

    /// <summary>Adds clusters of one point.</summary>
    /// <param name="rows">Shape [cluster, sum].</param>
    /// <param name="resampled">Sums of the point's resamples, shape [resample, sum].</param>
    public void Add(ReadOnlySpan<double> rows, ReadOnlySpan<double> resampled)
    {
        for (int at = 0; at < rows.Length; at += CellSums.Width)
        {
            ReadOnlySpan<double> row = rows.Slice(at, CellSums.Width);
            CellSums.AddWeighted(row, 1, Sums);
            if (row[CellSums.Cells] > 0)
                Clusters++;
        }
        for (int i = 0; i < resampled.Length; i++)
            Resampled[i] += resampled[i];
    }

    /// <summary>Adds absolute errors, metres.</summary>
    public void AddSizes(IEnumerable<double> sizesMetres) => _sizes.AddRange(sizesMetres);

    /// <summary>95th percentile of the absolute errors, metres.</summary>
    public double P95Metres()
    {
        double[] sorted = [.. _sizes];
        Array.Sort(sorted);
        return WeightedQuantile.Of(sorted);
    }

    /// <summary>A figure over the resamples.</summary>
    public double[] Replicates(CompareFigure figure)
    {
        var values = new double[resamples];
        for (int b = 0; b < resamples; b++)
            values[b] = CellSums.Figure(figure, Resampled.AsSpan(b * CellSums.Width, CellSums.Width));
        return values;
    }
}
