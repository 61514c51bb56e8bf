using EchoToThickness.Statistics.Describe;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Describe;

public sealed class WeightedMomentsTests
{
    // NIST Statistical Reference Datasets, certified mean and deviation (n - 1).
    [Theory]
    [InlineData("Michelso")]
    [InlineData("Mavro")]
    [InlineData("Lew")]
    [InlineData("Lottery")]
    [InlineData("NumAcc1")]
    public void Of_NistData_MeetsCertifiedValues(string name)
    {
        WeightedMoments moments = WeightedMoments.Of(StatisticsData.Nist(name));
        double mean = CheckRows.Expected($"NIST-{name}-mean");
        double deviation = CheckRows.Expected($"NIST-{name}-sd");
        Assert.Equal(mean, moments.Mean, Math.Abs(mean) * 1e-12);
        Assert.Equal(deviation, moments.StandardDeviation, deviation * 1e-12);
    }

    // NIST NumAcc2..4: a small spread on a large offset, certified 0.1. The decimals cannot be stored exactly; what is left is rounding of
    // the input: half a unit in the last place of 1e7 is 1e-9, 1e-8 of the deviation.
    [Theory]
    [InlineData(1.2, 1e-14)]
    [InlineData(1000000.2, 1e-8)]
    [InlineData(10000000.2, 1e-7)]
    public void Of_LargeOffset_KeepsTheDeviation(double first, double relative)
    {
        var values = new List<double> { first };
        for (int k = 0; k < 500; k++)
        {
            values.Add(first - 0.1);
            values.Add(first + 0.1);
        }
        WeightedMoments moments = WeightedMoments.Of(values.ToArray());
        Assert.Equal(first, moments.Mean, first * 1e-14);
        Assert.Equal(0.1, moments.StandardDeviation, 0.1 * Math.Max(relative, 1e-13));
    }

    // Slow obvious formula with weights; NaN left out.
    [Fact]
    public void Of_Weights_EqualTheFormula()
    {
        double[] values = [8, double.NaN, 9, 7];
        double[] weights = [1, 5, 2, 4];
        double mean = (8.0 + 18 + 28) / 7;
        double variance =
            (1 * Math.Pow(8 - mean, 2) + 2 * Math.Pow(9 - mean, 2) + 4 * Math.Pow(7 - mean, 2)) / (7 - 21.0 / 7);
        WeightedMoments moments = WeightedMoments.Of(values, weights);
        Assert.Equal(3, moments.Count);
        Assert.Equal(7, moments.WeightSum);
        Assert.Equal(mean, moments.Mean, 1e-14);
        Assert.Equal(Math.Sqrt(variance), moments.StandardDeviation, 1e-14);
    }

    [Fact]
    public void Of_NoneAndOne_SayNaNAndZero()
    {
        Assert.True(double.IsNaN(WeightedMoments.Of([double.NaN]).Mean));
        Assert.Equal(0, WeightedMoments.Of([5.0]).StandardDeviation);
    }
}
