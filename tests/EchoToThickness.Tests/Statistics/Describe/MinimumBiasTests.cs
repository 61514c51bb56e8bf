using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Describe;

public sealed class MinimumBiasTests
{
    // Expected smallest of n standard normals: closed forms -1/sqrt(pi) and -3/(2 sqrt(pi)); n = 10: -1.53875, n = 100: -2.50759
    // (tables of normal order statistics, Harter 1961; the last two from memory).
    [Theory]
    [InlineData(2, -0.5641895835477563, 1e-6)]
    [InlineData(3, -0.8462843753216345, 1e-6)]
    [InlineData(10, -1.53875, 1e-5)]
    [InlineData(100, -2.50759, 1e-5)]
    public void OfNormals_EqualMeans_IsTheNormalOrderStatistic(int count, double expected, double tolerance)
    {
        double[] means = Enumerable.Repeat(8.0, count).ToArray();
        double[] deviations = Enumerable.Repeat(1.0, count).ToArray();
        Assert.Equal(expected, MinimumBias.OfNormals(means, deviations), tolerance);
        Assert.Equal(expected, MinimumBias.OfNormals([8.0], [1.0], [count]), tolerance);
    }

    [Fact]
    public void OfNormals_OneCellFarBelow_HasNoBias()
    {
        Assert.Equal(0, MinimumBias.OfNormals([5, 8, 8], [0.1, 0.1, 0.1]), 1e-9);
    }

    // A flat plate read with noise: the true minimum is the plate. The median over 21 plates is right within the spread of one minimum
    // (0.38 deviations for 1,600 cells; uncorrected it is 3.4 deviations off). One plate in a hundred holds a cell that is taken as a pit.
    [Fact]
    public void OfMap_FlatPlateWithNoise_CorrectsToThePlate()
    {
        const double sigma = 30e-6;
        var errors = new double[21];
        for (int trial = 0; trial < errors.Length; trial++)
        {
            double[] wall = StatisticsData.Normals(1600, trial).Select(z => 8e-3 + sigma * z).ToArray();
            double[] noise = Enumerable.Repeat(sigma, wall.Length).ToArray();
            var map = new ThicknessMap(MapAxes.Even(40, 40, 1e-3, 1e-3), wall, default, noise);
            MinimumWall minimum = MapDescriber.Describe(map).Minimum;
            Assert.Equal(wall.Min(), minimum.MeasuredMetres);
            Assert.True(minimum.BiasMetres < 0);
            Assert.True(minimum.UpperMetres > minimum.BiasCorrectedMetres);
            errors[trial] = minimum.BiasCorrectedMetres - 8e-3;
        }
        Array.Sort(errors);
        Assert.Equal(0, errors[10], 0.38 * sigma);
    }

    // A pit of one smooth shape, deeper than noise by far: the bias is small against the noise.
    [Fact]
    public void OfMap_DeepPit_HasLittleBias()
    {
        const double sigma = 20e-6;
        double[] z = StatisticsData.Normals(2500, 7);
        var wall = new double[2500];
        for (int k = 0; k < wall.Length; k++)
        {
            double r2 = Math.Pow(k / 50 - 25, 2) + Math.Pow(k % 50 - 25, 2);
            wall[k] = 8e-3 - 3e-3 * Math.Exp(-r2 / 18) + sigma * z[k];
        }
        var map = new ThicknessMap(
            MapAxes.Even(50, 50, 1e-3, 1e-3),
            wall,
            default,
            Enumerable.Repeat(sigma, wall.Length).ToArray()
        );
        MinimumWall minimum = MapDescriber.Describe(map).Minimum;
        Assert.True(minimum.Contenders < 5);
        Assert.InRange(minimum.BiasMetres, -0.5 * sigma, 0);
    }
}
