using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Extremes;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

/// <summary>Fits beside R 4.2.2 (own likelihood with optim and numDeriv) and Coles 2001; tolerances of the rows.</summary>
public sealed class GevFitterTests
{
    private static double[] Data(string tag) =>
        tag switch
        {
            "pp" => StatisticsData.PortPirie,
            "fr" => StatisticsData.Fremantle,
            "ve" => StatisticsData.Venice,
            _ => StatisticsData.GlassFibre.Select(x => -x).ToArray(),
        };

    private static void Same(string id, double actual) =>
        Assert.True(
            Math.Abs(CheckRows.Expected(id) - actual) <= CheckRows.Tolerance(id),
            FormattableString.Invariant($"{id}: expected {CheckRows.Expected(id)}, found {actual}")
        );

    [Theory]
    [InlineData("pp")]
    [InlineData("fr")]
    [InlineData("ve")]
    [InlineData("gl")]
    public void MaximumLikelihood_FreeShape_EqualsR(string tag)
    {
        ExtremeFit fit = GevFitter.MaximumLikelihood(new BlockSample(Data(tag)), ShapeRule.Free);
        Same($"EV-{tag}-gev-p1", fit.Distribution.Location);
        Same($"EV-{tag}-gev-p2", fit.Distribution.Scale);
        Same($"EV-{tag}-gev-p3", fit.Distribution.Shape);
        for (int k = 0; k < 3; k++)
            Same($"EV-{tag}-gev-se{k + 1}", fit.StandardErrors![k]);
        Same($"EV-{tag}-gev-nll", fit.NegativeLogLikelihood);
        Same($"EV-{tag}-gev-v13", fit.Covariance![0, 2]);
        Same($"EV-{tag}-gev-v23", fit.Covariance[1, 2]);
        Same($"EV-{tag}-gev-rl10", fit.Distribution.ReturnLevel(10));
        Same($"EV-{tag}-gev-rl10-se", LevelIntervals.DeltaStandardError(fit, 0.9));
    }

    // Printed values of Coles 2001, p. 59 and 60.
    [Fact]
    public void MaximumLikelihood_PortPirie_EqualsColes()
    {
        ExtremeFit fit = GevFitter.MaximumLikelihood(new BlockSample(StatisticsData.PortPirie), ShapeRule.Free);
        Same("P-EV-pp-p1", fit.Distribution.Location);
        Same("P-EV-pp-p2", fit.Distribution.Scale);
        Same("P-EV-pp-p3", fit.Distribution.Shape);
        Same("P-EV-pp-var-mu", fit.Covariance![0, 0]);
        Same("P-EV-pp-cov-mu-xi", fit.Covariance[0, 2]);
        LevelInterval delta = LevelIntervals.Delta(fit, 0.99);
        Same("P-EV-pp-rl100", delta.Level);
        Same("P-EV-pp-rl100-lo", delta.Lower);
        Same("P-EV-pp-rl100-hi", delta.Upper);
    }

    [Theory]
    [InlineData("pp")]
    [InlineData("fr")]
    [InlineData("ve")]
    public void Profile_ReturnLevelsAndShape_EqualR(string tag)
    {
        var sample = new BlockSample(Data(tag));
        ExtremeFit fit = GevFitter.MaximumLikelihood(sample, ShapeRule.Free);
        foreach (int blocks in (int[])[10, 100])
        {
            LevelInterval interval = LevelIntervals.Profile(sample, fit, 1 - 1.0 / blocks);
            Same($"EV-{tag}-gev-rl{blocks}", interval.Level);
            Same($"EV-{tag}-gev-rl{blocks}-lo", interval.Lower);
            Same($"EV-{tag}-gev-rl{blocks}-hi", interval.Upper);
        }
        LevelInterval shape = LevelIntervals.ShapeProfile(sample, fit);
        Same($"EV-{tag}-gev-xi-lo", shape.Lower);
        Same($"EV-{tag}-gev-xi-hi", shape.Upper);
    }

    [Theory]
    [InlineData("pp")]
    [InlineData("fr")]
    [InlineData("ve")]
    public void Gumbel_AllMethods_EqualR(string tag)
    {
        double[] data = Data(tag);
        ExtremeFit fit = GevFitter.MaximumLikelihood(new BlockSample(data), ShapeRule.Gumbel);
        Same($"EV-{tag}-gum-mu", fit.Distribution.Location);
        Same($"EV-{tag}-gum-s", fit.Distribution.Scale);
        Same($"EV-{tag}-gum-se-mu", fit.StandardErrors![0]);
        Same($"EV-{tag}-gum-se-s", fit.StandardErrors[1]);
        Same($"EV-{tag}-gum-nll", fit.NegativeLogLikelihood);
        Same($"EV-{tag}-gum-mom-s", GevFitter.GumbelMoments(data).Distribution.Scale);
        Same($"EV-{tag}-gum-mom-mu", GevFitter.GumbelMoments(data).Distribution.Location);
        Same($"EV-{tag}-gum-lm-s", GevFitter.LMoments(data, true).Distribution.Scale);
        Same($"EV-{tag}-gum-lm-mu", GevFitter.LMoments(data, true).Distribution.Location);
    }

    [Theory]
    [InlineData("pp")]
    [InlineData("ve")]
    public void SampleLMoments_EqualR(string tag)
    {
        SampleLMoments moments = SampleLMoments.Of(Data(tag));
        Same($"EV-{tag}-lmom-l1", moments.First);
        Same($"EV-{tag}-lmom-l2", moments.Second);
        Same($"EV-{tag}-lmom-t3", moments.Skewness);
        Same($"EV-{tag}-lmom-t4", moments.Kurtosis);
    }

    // Expected L-moments of a GEV give it back: l1, l2, t3 of shape -0.1 in closed form (Hosking 1990), k = 0.1.
    // Hosking's approximation is good to 9e-4.
    [Fact]
    public void LMoments_OfALargeRegularSample_GiveTheDistribution()
    {
        var truth = new GeneralisedExtremeValue(2, 0.5, -0.1);
        double[] values = Enumerable.Range(0, 20000).Select(k => truth.Quantile((k + 0.5) / 20000)).ToArray();
        GeneralisedExtremeValue found = GevFitter.LMoments(values, false).Distribution;
        Assert.Equal(truth.Shape, found.Shape, 2e-3);
        Assert.Equal(truth.Scale, found.Scale, 2e-3);
        Assert.Equal(truth.Location, found.Location, 1e-3);
        GeneralisedExtremeValue paper = GevFitter
            .GumbelLeastSquares(
                Enumerable
                    .Range(0, 5000)
                    .Select(k => (truth with { Shape = 0 }).Quantile((k + 0.56) / 5000.12))
                    .ToArray()
            )
            .Distribution;
        // Values on the line by construction.
        Assert.Equal(0.5, paper.Scale, 1e-9);
        Assert.Equal(2, paper.Location, 1e-9);
    }

    // A block of exposure c is the largest of c unit blocks: fitting maxima of pairs with exposure 2 gives the unit distribution.
    [Theory]
    [InlineData(0.0)]
    [InlineData(-0.15)]
    public void MaximumLikelihood_Exposure_UndoesTheBlockSize(double shape)
    {
        var unit = new GeneralisedExtremeValue(1, 0.2, shape);
        GeneralisedExtremeValue pair = unit.OverBlocks(2);
        double[] values = Enumerable.Range(0, 2000).Select(k => pair.Quantile((k + 0.5) / 2000)).ToArray();
        var rule = new ShapeRule("fixed", true, shape, 0);
        GeneralisedExtremeValue found = GevFitter
            .MaximumLikelihood(new BlockSample(values, default, Enumerable.Repeat(2.0, 2000).ToArray()), rule, false)
            .Distribution;
        // The regular sample misses the outermost 1/4000 of each tail.
        Assert.Equal(1, found.Location, 2e-3);
        Assert.Equal(0.2, found.Scale, 1e-3);
    }

    // A value of weight 2 is a value that occurs twice.
    [Fact]
    public void MaximumLikelihood_Weights_AreRepetitions()
    {
        double[] data = StatisticsData.PortPirie;
        double[] weights = data.Select((_, k) => k < 20 ? 2.0 : 1).ToArray();
        double[] repeated = data.Concat(data.Take(20)).ToArray();
        foreach (ShapeRule rule in (ShapeRule[])[ShapeRule.Gumbel, ShapeRule.Free])
        {
            GeneralisedExtremeValue a = GevFitter.MaximumLikelihood(new BlockSample(data, weights), rule).Distribution;
            GeneralisedExtremeValue b = GevFitter.MaximumLikelihood(new BlockSample(repeated), rule).Distribution;
            Assert.Equal(b.Location, a.Location, 1e-5);
            Assert.Equal(b.Scale, a.Scale, 1e-5);
            Assert.Equal(b.Shape, a.Shape, 1e-4);
        }
    }

    [Fact]
    public void MaximumLikelihood_Penalty_DrawsTheShapeToZero()
    {
        var sample = new BlockSample(StatisticsData.Fremantle);
        double free = GevFitter.MaximumLikelihood(sample, ShapeRule.Free).Distribution.Shape;
        ExtremeFit drawn = GevFitter.MaximumLikelihood(sample, ShapeRule.Penalised);
        Assert.InRange(drawn.Distribution.Shape, free, 0);
        Assert.True(drawn.StandardErrors![2] < 0.06378);
    }

    // Shifting and stretching the data shifts and stretches the fit.
    [Fact]
    public void MaximumLikelihood_Units_DoNotMatter()
    {
        double[] metres = StatisticsData.PortPirie;
        GeneralisedExtremeValue a = GevFitter.MaximumLikelihood(new BlockSample(metres), ShapeRule.Free).Distribution;
        GeneralisedExtremeValue b = GevFitter
            .MaximumLikelihood(new BlockSample(metres.Select(x => 1e-3 * x - 7).ToArray()), ShapeRule.Free)
            .Distribution;
        Assert.Equal(1e-3 * a.Location - 7, b.Location, 1e-8);
        Assert.Equal(1e-3 * a.Scale, b.Scale, 1e-8);
        Assert.Equal(a.Shape, b.Shape, 1e-5);
    }

    [Fact]
    public void MaximumLikelihood_TooFewOrEqual_Refuses()
    {
        Assert.Throws<StatisticsException>(() =>
            GevFitter.MaximumLikelihood(new BlockSample([1, 2]), ShapeRule.Gumbel)
        );
        Assert.Throws<StatisticsException>(() =>
            GevFitter.MaximumLikelihood(new BlockSample([2, 2, 2, 2]), ShapeRule.Free)
        );
        Assert.Throws<ArgumentException>(() => new BlockSample([1, double.NaN]));
        Assert.Throws<StatisticsException>(() => GevFitter.GumbelLeastSquares([1, 1, 1]));
    }
}
