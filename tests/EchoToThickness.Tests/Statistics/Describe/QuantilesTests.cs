using EchoToThickness.Statistics.Describe;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Describe;

public sealed class QuantilesTests
{
    private static readonly double[] Sample = [1, 3, 4, 8, 9.5, 10];

    public static TheoryData<int, double> Cases
    {
        get
        {
            var cases = new TheoryData<int, double>();
            for (int type = 1; type <= 9; type++)
                foreach (double p in (double[])[0.1, 0.25, 0.5, 0.9])
                    cases.Add(type, p);
            return cases;
        }
    }

    // R 4.2.2 quantile(type = 1..9), definitions of Hyndman and Fan 1996.
    [Theory]
    [MemberData(nameof(Cases))]
    public void Of_AllTypes_EqualR(int type, double p)
    {
        double expected = CheckRows.Expected(FormattableString.Invariant($"QUANT-t{type}-p{p}"));
        Assert.Equal(expected, Quantiles.Of(Sample, p, (QuantileType)type), 1e-10);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void OfWeighted_EqualWeights_EqualsPlain(int type, double p)
    {
        double[] cumulative = [2, 4, 6, 8, 10, 12];
        Assert.Equal(
            Quantiles.Of(Sample, p, (QuantileType)type),
            Quantiles.OfWeighted(Sample, cumulative, p, (QuantileType)type),
            1e-9
        );
    }

    // Algebra: a value of weight 3 stands for three values in the empirical distribution.
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.3)]
    [InlineData(0.55)]
    [InlineData(0.99)]
    public void OfWeighted_IntegerWeights_EqualRepeatedValuesForTheInverseDistribution(double p)
    {
        double[] values = [1, 2, 5];
        double[] cumulative = [1, 4, 6];
        double[] repeated = [1, 2, 2, 2, 5, 5];
        Assert.Equal(
            Quantiles.Of(repeated, p, QuantileType.InverseDistribution),
            Quantiles.OfWeighted(values, cumulative, p, QuantileType.InverseDistribution)
        );
    }

    [Fact]
    public void Of_EmptyOrWrongProbability_Refuses()
    {
        Assert.Throws<ArgumentException>(() => Quantiles.Of([], 0.5));
        Assert.Throws<ArgumentOutOfRangeException>(() => Quantiles.Of(Sample, 1.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Quantiles.Of(Sample, double.NaN));
    }
}
