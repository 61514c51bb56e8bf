using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Extremes;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

/// <summary>The ten largest sea levels of Venice beside R 4.2.2 (own likelihood with optim and numDeriv); Coles 2001, table 3.1, within its digits.</summary>
public sealed class RLargestFitterTests
{
    private static double[][] Venice(int r)
    {
        double[][] columns =
        [
            .. Enumerable.Range(1, r).Select(k => StatisticsData.Column("venice_ten_largest_sea_levels_cm", k)),
        ];
        return
        [
            .. Enumerable
                .Range(0, columns[0].Length)
                .Select(year => columns.Select(c => c[year]).Where(x => !double.IsNaN(x)).ToArray()),
        ];
    }

    private static void Same(string id, double actual) =>
        Assert.True(
            Math.Abs(CheckRows.Expected(id) - actual) <= CheckRows.Tolerance(id),
            FormattableString.Invariant($"{id}: expected {CheckRows.Expected(id)}, found {actual}")
        );

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    [InlineData(10)]
    public void MaximumLikelihood_Venice_EqualsR(int r)
    {
        ExtremeFit fit = RLargestFitter.MaximumLikelihood(Venice(r), ShapeRule.Free);
        Same($"EV-ve-r{r}-p1", fit.Distribution.Location);
        Same($"EV-ve-r{r}-p2", fit.Distribution.Scale);
        Same($"EV-ve-r{r}-p3", fit.Distribution.Shape);
        for (int k = 0; k < 3; k++)
            Same($"EV-ve-r{r}-se{k + 1}", fit.StandardErrors![k]);
        Same($"EV-ve-r{r}-nll", fit.NegativeLogLikelihood);
    }

    [Fact]
    public void MaximumLikelihood_OneValueABlock_IsTheFitOfBlockMaxima()
    {
        ExtremeFit a = RLargestFitter.MaximumLikelihood(Venice(1), ShapeRule.Gumbel);
        ExtremeFit b = GevFitter.MaximumLikelihood(new BlockSample(StatisticsData.Venice), ShapeRule.Gumbel);
        Assert.Equal(b.Distribution.Location, a.Distribution.Location, 1e-4);
        Assert.Equal(b.Distribution.Scale, a.Distribution.Scale, 1e-4);
        Assert.Equal(b.NegativeLogLikelihood, a.NegativeLogLikelihood, 1e-8);
        Assert.Throws<StatisticsException>(() =>
            RLargestFitter.MaximumLikelihood(
                [
                    [1],
                    [],
                    [2],
                ],
                ShapeRule.Free
            )
        );
    }
}
