using EchoToThickness.Studies.Resampling;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Expected values: SciPy 1.10.1 (NumPy 1.24.2) where named, else closed forms.</summary>
public sealed class ResamplingTests
{
    /// <summary>scipy.stats.binomtest(k, n).proportion_ci(0.95, method="exact").</summary>
    [Theory]
    [InlineData(0, 300, 0.0, 0.012220974694296421)]
    [InlineData(3, 300, 0.0020670072350923137, 0.028944511255692713)]
    [InlineData(57, 300, 0.14719747629951832, 0.23904482835721697)]
    [InlineData(10, 10, 0.6915028921812371, 1.0)]
    [InlineData(1, 20000, 1.2658895218878237e-06, 0.00027855033220442634)]
    public void ClopperPearson_AgreesWithSciPy(long events, long trials, double low, double high)
    {
        Interval interval = ExactBinomial.ClopperPearson(events, trials, 0.95);
        // Both sides invert the incomplete beta function to about 1e-12.
        Assert.Equal(low, interval.Low, 1e-11);
        Assert.Equal(high, interval.High, 1e-11);
    }

    [Fact]
    public void ClopperPearson_NoEvent_IsTheClosedForm() =>
        // (1 - p)^n = 0.025, "rule of three" in its exact form.
        Assert.Equal(1 - Math.Pow(0.025, 1.0 / 30000), ExactBinomial.ClopperPearson(0, 30000, 0.95).High, 1e-12);

    /// <summary>scipy.stats.binomtest(a, a + b).pvalue.</summary>
    [Theory]
    [InlineData(3, 9, 0.14599609375)]
    [InlineData(0, 5, 0.0625)]
    [InlineData(7, 8, 1.0)]
    [InlineData(40, 12, 0.0001275387838557407)]
    [InlineData(1, 0, 1.0)]
    [InlineData(0, 0, 1.0)]
    public void SignTest_AgreesWithSciPy(long first, long second, double expected) =>
        Assert.Equal(expected, ExactBinomial.SignTest(first, second), 1e-12);

    /// <summary>scipy.stats.wilcoxon(d, mode="exact").</summary>
    [Fact]
    public void SignedRank_FewWithoutTies_IsExact() =>
        Assert.Equal(0.1015625, SignedRank.PValue([1.1, -0.4, 2.3, 0.7, -1.9, 3.2, 0.05, 1.4, -0.9, 2.8, 1.7]), 1e-15);

    /// <summary>scipy.stats.wilcoxon(d, zero_method="wilcox", correction=False, mode="approx").</summary>
    [Fact]
    public void SignedRank_TiesAndZeros_AgreesWithSciPy() =>
        Assert.Equal(
            0.01160894959003307,
            SignedRank.PValue([1, 1, -1, 2, 2, -2, 3, 0, 0, 4, -1, 2, 5, 5, -3, 1, 2, 2, 1, -1, 3, 3]),
            1e-10
        );

    /// <summary>scipy.stats.wilcoxon(d, correction=False, mode="approx").</summary>
    [Fact]
    public void SignedRank_Many_AgreesWithSciPy() =>
        Assert.Equal(
            SciPyEighty,
            SignedRank.PValue([
                .. Enumerable.Range(1, 80).Select(i => i * 7 % 10 is 1 or 4 or 5 or 8 ? -i : (double)i),
            ]),
            1e-10
        );

    [Fact]
    public void SignedRank_ExactAndNormal_MeetAtTheirBorder()
    {
        double[] few = [.. Enumerable.Range(1, 50).Select(i => i % 3 == 0 ? -i : (double)i)];
        // The same differences with one more, so that the normal approximation takes over; p changes by far less than tenfold.
        double ratio = SignedRank.PValue(few) / SignedRank.PValue([.. few, -51]);
        Assert.InRange(ratio, 0.1, 1);
    }

    [Fact]
    public void Holm_WorkedExample_IsRight()
    {
        // Holm 1979, by hand: sorted 0.005, 0.01, 0.03, 0.04 times 4, 3, 2, 1, made to ascend: 0.02, 0.03, 0.06, 0.06.
        double[] adjusted = Holm.Adjust([0.01, 0.04, 0.03, double.NaN, 0.005]);
        Assert.Equal([0.03, 0.06, 0.06, double.NaN, 0.02], adjusted.Select(p => Math.Round(p, 12)));
    }

    [Fact]
    public void Draw_ManyResamples_AreFairAndFull()
    {
        var counts = new ushort[40];
        var total = new double[40];
        for (int replicate = 0; replicate < 5000; replicate++)
        {
            ClusterWeights.Draw(7, replicate, counts);
            Assert.Equal(40, counts.Sum(c => c));
            for (int i = 0; i < 40; i++)
                total[i] += counts[i];
        }
        // Each total is binomial(200 000, 1/40): mean 5000, standard deviation 70; five of these.
        Assert.All(total, t => Assert.InRange(t, 5000 - 350, 5000 + 350));
    }

    /// <summary>scipy.stats.bootstrap, 200 000 resamples, two seeds: BCa 1.1689 to 1.8264 and 1.1690 to 1.8289, percentile 1.1112 to 1.7127.</summary>
    [Fact]
    public void Accelerated_RootMeanSquare_AgreesWithSciPy()
    {
        double[] values = [.. Enumerable.Range(1, 40).Select(i => (i * 37 % 41 - 20) / 10.0 + (i % 13 == 0 ? 3 : 0))];
        double[] replicates = Resample(values, 20000);
        double rms = Rms(values);
        Assert.Equal(1.4017845768876187, rms, 1e-12);
        double[] leftOut = [.. values.Select((_, i) => Rms([.. values.Where((_, j) => j != i)]))];
        Interval interval = BootstrapInterval.Accelerated(replicates, rms, leftOut, 0.95);
        Interval percentile = BootstrapInterval.Percentile(replicates, 0.95);
        // Quantiles of 20 000 resamples of spread 0.15 have a Monte Carlo error of about 0.004 at 2.5 %.
        Assert.Equal(1.169, interval.Low, 0.015);
        Assert.Equal(1.827, interval.High, 0.015);
        Assert.Equal(1.111, percentile.Low, 0.015);
        Assert.Equal(1.713, percentile.High, 0.015);
    }

    /// <summary>
    /// Clusters of correlated values: the cluster bootstrap's 95 % interval of the mean holds the truth nearly as often as it says; one
    /// that takes cells for independent does not.
    /// </summary>
    [Fact]
    public void Percentile_CorrelatedClusters_CoversOnlyWhenClustersAreDrawn()
    {
        const int Trials = 400;
        const int Clusters = 40;
        const int Cells = 10;
        int byCluster = 0;
        int byCell = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            var random = new NormalSequence((ulong)trial + 1);
            var cells = new double[Clusters * Cells];
            for (int c = 0; c < Clusters; c++)
            {
                double common = random.Next();
                for (int i = 0; i < Cells; i++)
                    cells[c * Cells + i] = common + 0.5 * random.Next();
            }
            double[] means =
            [
                .. Enumerable.Range(0, Clusters).Select(c => cells.Skip(c * Cells).Take(Cells).Average()),
            ];
            byCluster += Holds(ResampleMean(means, 400, (ulong)trial));
            byCell += Holds(ResampleMean(cells, 400, (ulong)trial));
        }
        // Percentile intervals of 40 clusters are a little short (about 0.94); 400 trials know it to 0.011: four of these.
        Assert.InRange(byCluster / (double)Trials, 0.89, 0.98);
        Assert.True(byCell / (double)Trials < 0.6, $"{byCell} of {Trials}");
    }

    private const double SciPyEighty = 0.06274990603315803;

    private static int Holds(double[] replicates) =>
        BootstrapInterval.Percentile(replicates, 0.95) is { Low: <= 0, High: >= 0 } ? 1 : 0;

    private static double[] Resample(double[] values, int count)
    {
        var counts = new ushort[values.Length];
        var replicates = new double[count];
        for (int b = 0; b < count; b++)
        {
            ClusterWeights.Draw(1, b, counts);
            replicates[b] = Math.Sqrt(values.Select((v, i) => counts[i] * v * v).Sum() / values.Length);
        }
        return replicates;
    }

    private static double[] ResampleMean(double[] values, int count, ulong seed)
    {
        var counts = new ushort[values.Length];
        var replicates = new double[count];
        for (int b = 0; b < count; b++)
        {
            ClusterWeights.Draw(seed, b, counts);
            double sum = 0;
            for (int i = 0; i < values.Length; i++)
                sum += counts[i] * values[i];
            replicates[b] = sum / values.Length;
        }
        return replicates;
    }

    private static double Rms(double[] values) => Math.Sqrt(values.Sum(v => v * v) / values.Length);
}
