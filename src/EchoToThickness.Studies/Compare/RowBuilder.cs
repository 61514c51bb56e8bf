using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.Studies.Compare;

/// <summary>Figures and their intervals from the totals of a group.</summary>
internal static class RowBuilder
{
    /// <summary>Builds a row.</summary>
    /// <param name="group">The cells.</param>
    /// <param name="method">Name of the method.</param>
    /// <param name="totals">Sums and resamples.</param>
    /// <param name="rows">Sums by cluster, for the jackknife; empty for pooled groups, whose intervals are bias-corrected only.</param>
    /// <param name="p95">The percentile over the resamples; empty for pooled groups, which give none.</param>
    /// <param name="level">Confidence level.</param>
    public static CompareRow Build(
        CompareGroup group,
        string method,
        GroupTotals totals,
        double[] rows,
        double[] p95,
        double level
    )
    {
        double[] sums = totals.Sums;
        var figures = new FigureValue[CompareFigures.All.Count];
        foreach (CompareFigure figure in CompareFigures.All)
            figures[(int)figure] =
                figure == CompareFigure.P95
                    ? new FigureValue(totals.P95Metres(), BootstrapInterval.Percentile(p95, level))
                : CompareFigures.IsRate(figure) ? Rate(figure, totals, level)
                : Size(figure, totals, rows, level);
        return new CompareRow
        {
            Method = method,
            Group = group,
            Cells = (long)sums[CellSums.Cells],
            LeftOut = (long)sums[CellSums.LeftOut],
            Clusters = totals.Clusters,
            Measured = (long)sums[CellSums.Measured],
            BoundMetres = Math.Sqrt(sums[CellSums.BoundSquared] / sums[CellSums.BoundCells]),
            Figures = figures,
        };
    }

    /// <summary>
    /// Independent cells: Clopper and Pearson, exact. Clusters: percentile bootstrap; where no cell or every cell is an event, which a
    /// bootstrap cannot vary, Clopper and Pearson with clusters as trials.
    /// </summary>
    private static FigureValue Rate(CompareFigure figure, GroupTotals totals, double level)
    {
        (long events, long trials) = CellSums.Counts(figure, totals.Sums);
        double value = CellSums.Figure(figure, totals.Sums);
        if (trials == 0)
            return new FigureValue(double.NaN, Interval.None);
        if (totals.Clusters >= trials || totals.Clusters == (long)totals.Sums[CellSums.Cells])
            return new FigureValue(value, ExactBinomial.ClopperPearson(events, trials, level));
        if (events == 0 || events == trials)
            return new FigureValue(
                value,
                ExactBinomial.ClopperPearson(events == 0 ? 0 : totals.Clusters, totals.Clusters, level)
            );
        return new FigureValue(value, BootstrapInterval.Percentile(totals.Replicates(figure), level));
    }

    private static FigureValue Size(CompareFigure figure, GroupTotals totals, double[] rows, double level)
    {
        double value = CellSums.Figure(figure, totals.Sums);
        if (!double.IsFinite(value) || totals.Clusters < 2)
            return new FigureValue(value, Interval.None);
        var leftOut = new double[rows.Length / CellSums.Width];
        Span<double> rest = stackalloc double[CellSums.Width];
        for (int cluster = 0; cluster < leftOut.Length; cluster++)
        {
            totals.Sums.CopyTo(rest);
            CellSums.AddWeighted(rows.AsSpan(cluster * CellSums.Width, CellSums.Width), -1, rest);
            leftOut[cluster] = CellSums.Figure(figure, rest);
        }
        return new FigureValue(value, BootstrapInterval.Accelerated(totals.Replicates(figure), value, leftOut, level));
    }
}
