using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Spatial;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

public sealed class NoisyTailTests
{
    // Algebra: E exp(e/s) = exp(u^2 / (2 s^2)), so a Gumbel distribution moves by u^2 / (2 s).
    [Fact]
    public void At_Gumbel_IsTheSameDistributionMoved()
    {
        var tail = new GeneralisedExtremeValue(2, 0.3, 0);
        var noisy = new NoisyTail(tail, 0.15);
        GeneralisedExtremeValue moved = tail with { Location = 2 + 0.15 * 0.15 / 0.6 };
        foreach (double x in (double[])[1.5, 2, 2.7, 4])
        {
            Assert.Equal(moved.Hazard(x), noisy.At(x).Hazard, 1e-12);
            Assert.Equal(moved.Density(x), noisy.At(x).Density * Math.Exp(-noisy.Hazard(x)), 1e-12);
        }
        Assert.Equal(moved.Quantile(0.99), noisy.Inverse()(-Math.Log(0.99)), 1e-12);
    }

    // Integral of t(x - e) over 4,000 steps of the normal density, in place of eight nodes; shape 0.2 and -0.2, noise up to 0.7 of the scale. The
    // integral is cut at t = 100 like the nodes.
    [Theory]
    [InlineData(0.2, 0.3)]
    [InlineData(0.2, 0.7)]
    [InlineData(-0.2, 0.3)]
    [InlineData(-0.2, 0.7)]
    public void At_OtherShapes_IsTheIntegral(double shape, double noise)
    {
        var tail = new GeneralisedExtremeValue(0, 1, shape);
        var noisy = new NoisyTail(tail, noise);
        foreach (double x in (double[])[-0.5, 0, 1, 2.5])
        {
            double sum = 0;
            const double step = 16.0 / 4000;
            for (int k = 0; k < 4000; k++)
            {
                double z = -8 + (k + 0.5) * step;
                sum += Math.Min(100, tail.Hazard(x - noise * z)) * Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI) * step;
            }
            // A heavy tail with much noise low down meets the cut at 100, a kink that eight nodes see to 0.3 %; 1e-3 elsewhere.
            double tolerance = shape > 0 && noise > 0.5 && x < 0 ? 5e-3 : 1e-3;
            Assert.Equal(sum, noisy.Hazard(x), tolerance * sum);
            // The density is minus the slope of the mean number.
            double slope = (noisy.Hazard(x - 1e-5) - noisy.Hazard(x + 1e-5)) / 2e-5;
            Assert.Equal(slope, noisy.At(x).Density, 1e-5 * slope);
            Assert.Equal(x, noisy.Inverse()(noisy.Hazard(x)), 2e-3);
        }
    }

    // 400 blocks of 200 exponential losses of scale 1 with noise of 0.6: blind to it the bound is 0.18 too far; the fit that holds it returns the
    // distribution of the largest of 200 losses (location ln 200, scale 1) within three of its standard errors.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void MaximumLikelihood_NoisyBlocks_ReturnsTheTailWithoutNoise(bool isGumbel)
    {
        const double u = 0.6;
        var random = new Random(7);
        double[] noise = StatisticsData.Normals(400 * 200, 21);
        var maxima = new double[400];
        for (int block = 0; block < 400; block++)
        {
            maxima[block] = double.NegativeInfinity;
            for (int k = 0; k < 200; k++)
                maxima[block] = Math.Max(
                    maxima[block],
                    -Math.Log(1 - random.NextDouble()) + u * noise[block * 200 + k]
                );
        }
        ShapeRule rule = isGumbel ? ShapeRule.Gumbel : ShapeRule.Penalised;
        ExtremeFit plain = GevFitter.MaximumLikelihood(new BlockSample(maxima), rule);
        ExtremeFit clean = GevFitter.MaximumLikelihood(new BlockSample(maxima, default, default, u), rule);
        Assert.Equal(Math.Log(200), clean.Distribution.Location, 3 * clean.StandardErrors![0]);
        Assert.Equal(1, clean.Distribution.Scale, 3 * clean.StandardErrors[1]);
        Assert.Equal(0, clean.Distribution.Shape, 3 * clean.StandardErrors[2] + 1e-12);
        Assert.InRange(plain.Distribution.Location - clean.Distribution.Location, 0.5 * u * u / 2, 1.5 * u * u / 2);
        Assert.True(
            clean.NegativeLogLikelihood
                <= GevFitter.NegativeLogLikelihood(
                    new BlockSample(maxima, default, default, u),
                    new GeneralisedExtremeValue(Math.Log(200), 1, 0)
                )
                    + rule.Penalty(clean.Distribution.Shape)
                    + 1e-6
        );
    }

    // Pareto excesses of shape 0.15 with noise: the fit that holds the noise is nearer to the truth than the one that does not.
    [Fact]
    public void ParetoFit_NoisyExcesses_ReturnsTheTailWithoutNoise()
    {
        var tail = new GeneralisedPareto(0, 1, 0.15);
        const double u = 0.6;
        var random = new Random(5);
        double[] noise = StatisticsData.Normals(200000, 6);
        // A tail that begins well below the threshold of 1.5, so that noise moves values up and down over it.
        double[] values =
        [
            .. noise.Select(z => tail.AtExceedance(1 - random.NextDouble()) + u * z).Where(x => x > 1.5),
        ];
        ParetoFit clean = ParetoFitter.MaximumLikelihood(values, 1.5, ShapeRule.Free, true, u);
        ParetoFit plain = ParetoFitter.MaximumLikelihood(values, 1.5, ShapeRule.Free);
        // Excesses of a Pareto tail over 1.5 have the scale 1 + 0.15 * 1.5.
        double scale = 1 + 0.15 * 1.5;
        Assert.Equal(scale, clean.Distribution.Scale, 4 * Math.Sqrt(clean.Covariance![0, 0]));
        Assert.Equal(0.15, clean.Distribution.Shape, 4 * Math.Sqrt(clean.Covariance[1, 1]));
        Assert.True(
            Math.Abs(clean.Distribution.Scale - scale) < Math.Abs(plain.Distribution.Scale - scale)
                || Math.Abs(clean.Distribution.Shape - 0.15) < Math.Abs(plain.Distribution.Shape - 0.15)
        );
    }

    [Fact]
    public void Analyse_NoiseKnownApart_GivesAThickerBoundBesideTheHeadline()
    {
        var model = new VariogramModel(VariogramShape.Exponential, 0.1, 0.9, 0.9e-3, 0);
        double[] field = new FieldSimulator(112, 112, 1e-3, 1e-3, model, model).Draw(1, 0).First;
        double[] noise = StatisticsData.Normals(field.Length, 4);
        const double u = 60e-6;
        double[] walls =
        [
            .. field.Select(
                (z, k) =>
                    9e-3
                    + 0.15e-3 * Math.Log(EchoToThickness.Statistics.Describe.MapDescriber.ProbabilityBelow(0, 1, -z))
                    + u * noise[k]
            ),
        ];
        double[] us = [.. walls.Select(_ => u)];
        MapAxes axes = MapAxes.Even(112, 112, 1e-3, 1e-3);
        var settings = new ExtremeSettings
        {
            ReferenceWallMetres = 10e-3,
            TargetAreaSquareMetres = 0.25,
            SelfTestTrials = 0,
            BootstrapSamples = 50,
            FitTrials = 19,
            Permutations = 99,
        };
        ExtremeAnalysis known = ExtremeAnalyser.Analyse(
            new ThicknessMap(axes, walls, default, us, default, us),
            settings
        );
        foreach (ExtremeStatement s in known.Statements)
        {
            Assert.Equal(u, s.NoiseDeviationMetres, 1e-12);
            Assert.NotNull(s.DeconvolvedBoundMetres);
            // Gumbel: the same draws, moved; others fit other numbers of samples, which the bootstrap tells by a tenth of a millimetre.
            if (s.Label.Contains("Gumbel", StringComparison.Ordinal))
                Assert.Equal(
                    s.NoiseShiftMetres,
                    s.DeconvolvedBoundMetres!.Value - s.LowerBoundMetres,
                    0.2 * s.NoiseShiftMetres
                );
            else
                Assert.Equal(s.LowerBoundMetres, s.DeconvolvedBoundMetres!.Value, 0.1e-3);
        }
        Assert.Equal(known.Statements.Min(s => s.LowerBoundMetres), known.Statements[0].LowerBoundMetres);
        // Not known apart, the uncertainty may be common to all cells: nothing is taken out.
        ExtremeAnalysis unknown = ExtremeAnalyser.Analyse(new ThicknessMap(axes, walls, default, us), settings);
        Assert.All(unknown.Statements, s => Assert.Null(s.DeconvolvedBoundMetres));
    }
}
