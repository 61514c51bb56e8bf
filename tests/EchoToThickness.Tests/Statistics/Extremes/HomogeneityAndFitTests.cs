using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

public sealed class HomogeneityAndFitTests
{
    // scipy.stats.kruskal, SciPy 1.10.1, with a tie.
    [Fact]
    public void KruskalWallis_EqualsScipy()
    {
        double[] values = [2.9, 3.0, 2.5, 2.6, 3.2, 3.8, 2.7, 4.0, 2.4, 2.8, 3.4, 3.7, 2.2, 2.0, 2.6];
        int[] groups = [0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2];
        TestOutcome outcome = HomogeneityTests.KruskalWallis("groups", values, groups);
        Assert.Equal(KruskalStatistic, outcome.Statistic, 1e-9);
        Assert.Equal(KruskalProbability, outcome.Probability, 1e-9);
    }

    // scipy.stats.spearmanr, SciPy 1.10.1 (statistic).
    [Fact]
    public void Trend_EqualsScipy()
    {
        TestOutcome outcome = HomogeneityTests.Trend("trend", [5, 6, 7, 8, 7, 9], [1, 2, 3, 4, 5, 6]);
        Assert.Equal(0.8986, outcome.Statistic, 5e-5);
    }

    // Definition: 6 above and 6 below in 2 runs: mean 7, variance 6 * 5 / 11; z = -3.0276.
    [Fact]
    public void Runs_TwoRuns_IsFarFromChance()
    {
        double[] values = [1, 2, 3, 4, 5, 6, 11, 12, 13, 14, 15, 16];
        TestOutcome outcome = HomogeneityTests.Runs("runs", values);
        Assert.Equal(2, outcome.Statistic);
        // Normal table: 2 (1 - Phi(3.02765)) = 0.0024647.
        Assert.Equal(0.0024647, outcome.Probability, 1e-6);
        Assert.True(double.IsNaN(HomogeneityTests.Runs("runs", [1, 2, 3]).Probability));
    }

    [Fact]
    public void Neighbours_TrendAndNoise_AreToldApart()
    {
        var pairs = Enumerable.Range(0, 39).Select(k => (k, k + 1)).ToArray();
        double[] ramp = Enumerable.Range(0, 40).Select(k => (double)k).ToArray();
        Assert.True(HomogeneityTests.Neighbours("n", ramp, pairs, 199, 1).Probability < 0.01);
        Assert.True(HomogeneityTests.Neighbours("n", StatisticsData.Normals(40, 8), pairs, 199, 1).Probability > 0.05);
    }

    // R nortest ad.test: normal, mean and deviation estimated.
    [Theory]
    [InlineData("glass")]
    [InlineData("frem")]
    public void AndersonDarling_Normal_EqualsNortest(string name)
    {
        double[] data = name == "glass" ? StatisticsData.GlassFibre : StatisticsData.Fremantle;
        WeightedMoments moments = WeightedMoments.Of(data);
        double[] p = data.Select(x => MapDescriber.ProbabilityBelow(0, moments.StandardDeviation, x - moments.Mean))
            .Order()
            .ToArray();
        double expected = CheckRows.Expected($"GOF-ad-{name}");
        Assert.Equal(expected, GoodnessOfFitTests.AndersonDarling(p), expected * 1e-9);
    }

    [Fact]
    public void KolmogorovSmirnov_EqualsR()
    {
        double[] u = [.02, .11, .3, .32, .45, .61, .64, .83, .9, .97];
        double d = GoodnessOfFitTests.KolmogorovSmirnov(u);
        Assert.Equal(CheckRows.Expected("GOF-ks-D"), d, 1e-12);
        Assert.Equal(CheckRows.Expected("GOF-ks-p"), 1 - GoodnessOfFitTests.KolmogorovCumulative(d, 10), 1e-9);
    }

    // Exact critical values: at them the probability beyond is the level.
    [Theory]
    [InlineData(5)]
    [InlineData(20)]
    [InlineData(100)]
    public void KolmogorovCumulative_AtCriticalValues_IsTheLevel(int n)
    {
        foreach (double level in (double[])[0.1, 0.05, 0.01])
        {
            double d = CheckRows.Expected(FormattableString.Invariant($"KS-{n}-{level}"));
            Assert.Equal(1 - level, GoodnessOfFitTests.KolmogorovCumulative(d, n), 1e-6);
        }
    }

    // Stephens' critical value of A2 for Gumbel with both parameters estimated: 0.757 at 5 %, A2 (1 + 0.2 / sqrt(n)).
    [Fact]
    public void Of_GumbelAtStephensCriticalValue_HasProbabilityFivePercent()
    {
        const int n = 60;
        const int trials = 800;
        double critical = CheckRows.ExpectedList("P-AD-crit-Gumbel")[1] / (1 + 0.2 / Math.Sqrt(n));
        var unit = new GeneralisedExtremeValue(0, 1, 0);
        var random = new Random(6);
        int beyond = 0;
        for (int trial = 0; trial < trials; trial++)
        {
            double[] values = Enumerable
                .Range(0, n)
                .Select(_ => unit.Quantile(1 - random.NextDouble() * 0.9999999))
                .ToArray();
            GeneralisedExtremeValue d = GevFitter
                .MaximumLikelihood(new BlockSample(values), ShapeRule.Gumbel, false)
                .Distribution;
            if (GoodnessOfFitTests.AndersonDarling(values.Select(d.Cumulative).Order().ToArray()) > critical)
                beyond++;
        }
        // Three standard errors of a share of 5 % in 800 trials.
        Assert.Equal(0.05, (double)beyond / trials, 3 * Math.Sqrt(0.05 * 0.95 / trials));
    }

    [Fact]
    public void Of_RightAndWrongDistribution_AreToldApart()
    {
        var sample = new BlockSample(StatisticsData.PortPirie);
        GoodnessOfFit good = GoodnessOfFitTests.Of(
            sample,
            GevFitter.MaximumLikelihood(sample, ShapeRule.Gumbel),
            199,
            1
        );
        Assert.True(good.AndersonDarlingProbability > 0.1);
        Assert.Equal(65, good.FittedQuantiles.Count);
        Assert.Equal(StatisticsData.PortPirie.Min(), good.OrderedValues[0]);
        // Two clumps are no Gumbel sample.
        var clumps = new BlockSample(
            Enumerable.Range(0, 60).Select(k => (k % 2 == 0 ? 1.0 : 5.0) + 1e-3 * k).ToArray()
        );
        GoodnessOfFit bad = GoodnessOfFitTests.Of(
            clumps,
            GevFitter.MaximumLikelihood(clumps, ShapeRule.Gumbel),
            199,
            1
        );
        Assert.Equal(0.005, bad.AndersonDarlingProbability, 1e-12);
        Assert.Equal(0.005, bad.KolmogorovSmirnovProbability, 1e-12);
    }

    private const double KruskalStatistic = 0.9688133571854517;
    private const double KruskalProbability = 0.6160626114849925;
}
