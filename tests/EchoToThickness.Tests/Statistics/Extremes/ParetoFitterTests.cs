using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Extremes;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

/// <summary>Daily rain of Coles 2001, beside R 4.2.2; tolerances of the rows.</summary>
public sealed class ParetoFitterTests
{
    private static void Same(string id, double actual) =>
        Assert.True(
            Math.Abs(CheckRows.Expected(id) - actual) <= CheckRows.Tolerance(id),
            FormattableString.Invariant($"{id}: expected {CheckRows.Expected(id)}, found {actual}")
        );

    [Theory]
    [InlineData(25)]
    [InlineData(30)]
    [InlineData(40)]
    public void MaximumLikelihood_Rain_EqualsR(int threshold)
    {
        ParetoFit fit = ParetoFitter.MaximumLikelihood(StatisticsData.Rain, threshold, ShapeRule.Free);
        Assert.Equal(CheckRows.Expected($"EV-ra-u{threshold}-n"), fit.Count);
        Same($"EV-ra-u{threshold}-p1", fit.Distribution.Scale);
        Same($"EV-ra-u{threshold}-p2", fit.Distribution.Shape);
        Same($"EV-ra-u{threshold}-se1", Math.Sqrt(fit.Covariance![0, 0]));
        Same($"EV-ra-u{threshold}-se2", Math.Sqrt(fit.Covariance[1, 1]));
        Same($"EV-ra-u{threshold}-nll", fit.NegativeLogLikelihood);
        double expected = 36525 * (double)fit.Count / 17531;
        Same($"EV-ra-u{threshold}-rl100", fit.Distribution.AtExceedance(1 / expected));
    }

    // Coles 2001, p. 85: estimates and covariance as printed.
    [Fact]
    public void MaximumLikelihood_Rain_EqualsColes()
    {
        ParetoFit fit = ParetoFitter.MaximumLikelihood(StatisticsData.Rain, 30, ShapeRule.Free);
        Same("P-EV-ra-scale", fit.Distribution.Scale);
        Same("P-EV-ra-shape", fit.Distribution.Shape);
        Same("P-EV-ra-var-scale", fit.Covariance![0, 0]);
        Same("P-EV-ra-cov", fit.Covariance[0, 1]);
        Same("P-EV-ra-loglik", -fit.NegativeLogLikelihood);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(30)]
    [InlineData(60)]
    public void MeanExcess_Rain_EqualsR(int threshold) =>
        Same($"EV-ra-mrl{threshold}", ParetoFitter.MeanExcess(StatisticsData.Rain, threshold));

    // Exponential excesses: scale is the mean excess, its error mean / sqrt(n); L-moments of a regular sample give the distribution back.
    [Fact]
    public void Exponential_AndLMoments_AreClosedForms()
    {
        ParetoFit fit = ParetoFitter.MaximumLikelihood(StatisticsData.Rain, 30, ShapeRule.Gumbel);
        Assert.Equal(CheckRows.Expected("EV-ra-mrl30"), fit.Distribution.Scale, 1e-8);
        Assert.Equal(fit.Distribution.Scale / Math.Sqrt(152), Math.Sqrt(fit.Covariance![0, 0]), 1e-5);
        var truth = new GeneralisedPareto(1, 2, -0.2);
        double[] values = Enumerable.Range(0, 20000).Select(k => truth.AtExceedance((k + 0.5) / 20000)).ToArray();
        GeneralisedPareto found = ParetoFitter.LMoments(values, 1).Distribution;
        Assert.Equal(-0.2, found.Shape, 1e-3);
        Assert.Equal(2, found.Scale, 2e-3);
        Assert.Throws<StatisticsException>(() => ParetoFitter.LMoments(values, 1000));
    }
}
