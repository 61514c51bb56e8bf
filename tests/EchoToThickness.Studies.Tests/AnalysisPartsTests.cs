using EchoToThickness.Pairing;
using EchoToThickness.Studies.Compare;
using EchoToThickness.Studies.Resampling;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Steps of the analysis against slow or hand-made answers.</summary>
public sealed class AnalysisPartsTests
{
    [Theory]
    // Error 1, 1, 2 (6.02 dB) times the bound from the top: 3 dB is passed 3/6.02 of the way from 20 to 10 dB.
    [InlineData(new[] { 2.0, 1, 1 }, new[] { 0.0, 0, 0 }, 20 - 10 * 3 / 6.0206, false)]
    // Half the cells missing is passed half way between 0.2 and 0.8.
    [InlineData(new[] { 1.0, 1, 1 }, new[] { 0.8, 0.2, 0 }, 15.0, true)]
    // Both: what breaks at the higher ratio counts.
    [InlineData(new[] { 2.0, 1, 1 }, new[] { 1.0, 0.4, 0 }, 20 - 10 * 0.1 / 0.6, true)]
    [InlineData(new[] { 1.0, 1, 1 }, new[] { 0.0, 0, 0 }, double.NegativeInfinity, false)]
    [InlineData(new[] { 2.0, 2, 2 }, new[] { 0.0, 0, 0 }, double.PositiveInfinity, false)]
    // Nothing measured at the lowest ratio: no error is known there, all is missing.
    [InlineData(new[] { double.NaN, 1, 1 }, new[] { 1.0, 0, 0 }, 15.0, true)]
    // A dip under the limit below the threshold does not bring it back.
    [InlineData(new[] { 1.0, 2, 1 }, new[] { 0.0, 0, 0 }, 30 - 10 * 3 / 6.0206, false)]
    public void Threshold_Curves_AreCrossedFromAbove(double[] ratio, double[] missing, double expected, bool byMissing)
    {
        (double decibels, bool by) = ThresholdFinder.Of([10, 20, 30], ratio, missing);
        // 3 dB over 20 log10(2) = 6.0206 dB; rounding of the literal.
        Assert.Equal(expected, decibels, double.IsInfinity(expected) ? 0 : 1e-4);
        Assert.Equal(byMissing, by);
    }

    [Fact]
    public void WeightedQuantile_AnyResample_IsThatOfTheCopiedValues()
    {
        CellSample sample = Sample(60, cluster: i => i / 3);
        var quantile = new WeightedQuantile(sample);
        var counts = new ushort[sample.Clusters];
        for (int replicate = 0; replicate < 200; replicate++)
        {
            ClusterWeights.Draw(5, replicate, counts);
            double[] copied =
            [
                .. Enumerable
                    .Range(0, 60)
                    .Where(i => !double.IsNaN(sample.ErrorMetres[i]))
                    .SelectMany(i => Enumerable.Repeat(Math.Abs(sample.ErrorMetres[i]), counts[sample.Cluster[i]]))
                    .Order(),
            ];
            double position = 0.95 * (copied.Length - 1);
            int below = (int)position;
            double expected =
                copied[below] + (position - below) * (copied[Math.Min(below + 1, copied.Length - 1)] - copied[below]);
            Assert.Equal(expected, quantile.Of(counts), 1e-15);
        }
    }

    [Fact]
    public void Rates_FewClustersWithoutEvents_AreBoundedByTheClusters()
    {
        // 60 right cells in 20 clusters: a bootstrap cannot vary them; 1 - 0.025^(1/20) = 16.8 % can still be wrong.
        CellSample sample = Sample(60, cluster: i => i / 3, error: _ => 1e-6);
        double[] rows = sample.ByCluster(_ => true);
        var totals = new GroupTotals(100);
        totals.Add(rows, new double[100 * CellSums.Width]);
        CompareRow row = RowBuilder.Build(
            new CompareGroup(GroupKind.Source, "s", [], null),
            "m",
            totals,
            rows,
            [],
            0.95
        );
        Assert.Equal((60L, 20L), (row.Cells, row.Clusters));
        Assert.Equal(0, row[CompareFigure.Gross].Interval.Low);
        Assert.Equal(1 - Math.Pow(0.025, 1.0 / 20), row[CompareFigure.Gross].Interval.High, 1e-10);
    }

    [Fact]
    public void ByCluster_MixedCells_SumsTheFiguresOfTheScore()
    {
        CellSample sample = Sample(60, cluster: i => i / 3);
        double[] sums = new double[CellSums.Width];
        double[] rows = sample.ByCluster(_ => true);
        for (int at = 0; at < rows.Length; at += CellSums.Width)
            CellSums.AddWeighted(rows.AsSpan(at, CellSums.Width), 1, sums);
        (float[] value, byte[] status, double[] truth) = Cells(60, null);
        AccuracyScore score = AccuracyScore.Of(value, status, truth, [], AccuracyRules.For(5920, 7e6));
        Assert.Equal(score.MissingFraction, CellSums.Figure(CompareFigure.Missing, sums), 12);
        Assert.Equal(score.GrossFraction, CellSums.Figure(CompareFigure.Gross, sums), 12);
        Assert.Equal(score.CycleFraction, CellSums.Figure(CompareFigure.Cycle, sums), 12);
        Assert.Equal(score.BiasMetres, CellSums.Figure(CompareFigure.Bias, sums), 1e-15);
        Assert.Equal(score.RmseMetres, CellSums.Figure(CompareFigure.Rmse, sums), 1e-15);
        Assert.Equal(score.RmseSoundMetres, CellSums.Figure(CompareFigure.RmseSound, sums), 1e-15);
    }

    [Fact]
    public void PairTotals_PlantedDifferences_AreCountedOnTheRightSide()
    {
        // 40 independent cells. The method is grossly wrong in cells 0 to 8, the reference in 9 to 11; elsewhere 2 um against 1 um.
        CellSample method = Sample(40, cluster: i => i, error: i => i < 9 ? 1e-3 : 2e-6);
        CellSample reference = Sample(40, cluster: i => i, error: i => i is >= 9 and < 12 ? 1e-3 : 1e-6);
        var weights = new ushort[50][];
        for (int b = 0; b < weights.Length; b++)
            ClusterWeights.Draw(1, b, weights[b] = new ushort[40]);
        var totals = new PairTotals(weights.Length);
        totals.Add(method, reference, weights);
        PairedRow row = totals.Row(new CompareGroup(GroupKind.Source, "s", [], null), "m", "r", 0.95);
        Assert.Equal((9L, 3L, 0L, 0L), (row.MoreGross, row.FewerGross, row.MoreMissing, row.FewerMissing));
        // scipy.stats.binomtest(3, 12).pvalue, SciPy 1.10.1.
        Assert.Equal(0.14599609375, row.GrossPValue, 1e-12);
        Assert.Equal(28, row.BothSound);
        // 2 um over 1 um in every resample; walls are float32, which rounds 6 mm to 0.5 nm.
        Assert.Equal(2, row.RmseRatio.Value, 2e-3);
        Assert.Equal(2, row.RmseRatio.Interval.Low, 4e-3);
        Assert.True(row.WilcoxonPValue < 1e-3);
    }

    [Fact]
    public void PlantedParts_Words_AreThoseOfTheTrade()
    {
        Assert.Equal("nothing planted", PlantedParts.All[0].Words);
        Assert.Contains(PlantedParts.All, p => p.Words == "planted: dry coupling");
        Assert.True(PlantedParts.All[0].Has(0));
        // Bits as the scene defines them: 1 << 16 is dry coupling, 1 << 19 a spike.
        Assert.False(PlantedParts.All[1].Has(1u << 16));
        Assert.True(PlantedParts.All[1].Has(1u << 19));
        // 1 << 5 is a wall that scatters its echo away: coupled, but not heard.
        Assert.True(PlantedParts.All[1].Has(1u << 5));
        Assert.False(PlantedParts.All[2].Has(1u << 5));
        Assert.True(PlantedParts.All[2].Has(1u << 19));
    }

    [Fact]
    public void Reliability_CountsByHand_BinsHoldEnoughCells()
    {
        var table = new ReliabilityTable();
        // 1,000 cells at 0.001 of which one is wrong, 300 at 0.02 with 9, 500 at 0.2 with 100, and cells that state nothing.
        for (int i = 0; i < 1000; i++)
            table.Add(0.001, i == 0);
        for (int i = 0; i < 300; i++)
            table.Add(0.02, i < 9);
        for (int i = 0; i < 500; i++)
            table.Add(0.2, i < 100);
        table.Add(double.NaN, true);
        IReadOnlyList<ReliabilityRow> rows = table.Rows("scan", "train", 0.95);
        Assert.Equal(2, rows.Count);
        Assert.Equal((1000L, 1L), (rows[0].Cells, rows[0].Wrong));
        Assert.Equal(1, rows[0].Ratio, 1e-9);
        // The 300 are too few for a bin of their own.
        Assert.Equal((800L, 109L), (rows[1].Cells, rows[1].Wrong));
        Assert.Equal((300 * 0.02 + 500 * 0.2) / 800, rows[1].Stated, 1e-9);
        Assert.Equal((0.02, 0.2), (rows[1].Lowest, rows[1].Highest));
        Assert.Equal(109.0 / 800, rows[1].Observed.Value, 1e-12);
        // Clopper and Pearson (1934) for 1 of 1,000: 0.0000253 to 0.00556, from beta quantiles of SciPy 1.17.
        Assert.Equal(2.5318e-5, rows[0].Observed.Interval.Low, 1e-8);
        Assert.Equal(5.5589e-3, rows[0].Observed.Interval.High, 1e-6);
    }

    [Fact]
    public void Reliability_FewCellsInAll_NoBin()
    {
        var table = new ReliabilityTable();
        for (int i = 0; i < 399; i++)
            table.Add(0.01, false);
        Assert.Empty(table.Rows("scan", "train", 0.95));
    }

    private static CellSample Sample(int cells, Func<int, int> cluster, Func<int, double>? error = null)
    {
        (float[] value, byte[] status, double[] truth) = Cells(cells, error);
        return CellSample.Of(
            [
                (
                    new BlockTruth
                    {
                        ThicknessMetres = truth,
                        Cluster = [.. Enumerable.Range(0, cells).Select(cluster)],
                    },
                    new MethodResult(value, new float[cells], new float[cells], new float[cells], status)
                ),
            ],
            _ => AccuracyRules.For(5920, 7e6),
            1.96,
            null
        );
    }

    /// <summary>Errors of all sizes, every seventh cell missing, every eleventh not scanned.</summary>
    private static (float[] Value, byte[] Status, double[] Truth) Cells(int cells, Func<int, double>? error)
    {
        var value = new float[cells];
        var status = new byte[cells];
        var truth = new double[cells];
        for (int i = 0; i < cells; i++)
        {
            truth[i] = 6e-3 + 0.05e-3 * (i % 17);
            value[i] = (float)(truth[i] + (error?.Invoke(i) ?? Math.Pow(i % 13 - 6, 3) * 4e-6));
            if (error is not null)
                continue;
            if (i % 7 == 0)
                (value[i], status[i]) = (float.NaN, (byte)CellStatus.NoBackWallEcho);
            if (i % 11 == 0)
                (value[i], status[i]) = (float.NaN, (byte)CellStatus.NotScanned);
        }
        return (value, status, truth);
    }
}
