using System.Globalization;
using EchoToThickness.Statistics.Extremes;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Extremes;

public sealed class DistributionTests
{
    /// <summary>Numbers behind <c>name=</c> in the inputs of a row.</summary>
    private static double Input(string id, string name)
    {
        string field = CheckRows
            .Field(id, 2)
            .Split(',')
            .Select(f => f.Trim())
            .First(f => f.StartsWith(name + "=", StringComparison.Ordinal));
        return double.Parse(field[(name.Length + 1)..].Split(' ')[0], NumberStyles.Float, CultureInfo.InvariantCulture);
    }

    // R evd 2.3.6.1; rows have ten digits.
    [Fact]
    public void Distributions_EqualEvd()
    {
        int seen = 0;
        foreach (string id in CheckRows.Ids("EV-cdf-gev-").Concat(CheckRows.Ids("EV-pdf-gev-")))
        {
            var gev = new GeneralisedExtremeValue(0, 1, Input(id, "xi"));
            double actual = id.Contains("pdf", StringComparison.Ordinal)
                ? gev.Density(Input(id, "x"))
                : gev.Cumulative(Input(id, "x"));
            Assert.Equal(CheckRows.Expected(id), actual, 6e-11);
            seen++;
        }
        foreach (string id in CheckRows.Ids("EV-cdf-gpd-"))
        {
            Assert.Equal(
                CheckRows.Expected(id),
                new GeneralisedPareto(0, 1, Input(id, "xi")).Cumulative(Input(id, "x")),
                6e-11
            );
            seen++;
        }
        foreach (string id in CheckRows.Ids("EV-q-gev-"))
        {
            double actual = new GeneralisedExtremeValue(5, 2, Input(id, "xi")).Quantile(Input(id, "p"));
            Assert.Equal(CheckRows.Expected(id), actual, 6e-9);
            seen++;
        }
        Assert.Equal(37, seen);
    }

    // Closed forms of the check rows: Gumbel maximum over 200 blocks.
    [Fact]
    public void OverBlocks_Gumbel_ShiftsTheLocation()
    {
        var unit = new GeneralisedExtremeValue(1.2, 0.25, 0);
        Assert.Equal(CheckRows.Expected("CO-gum-shift"), unit.OverBlocks(200).Location, 1e-9);
        Assert.Equal(0.25, unit.OverBlocks(200).Scale, 1e-12);
        Assert.Equal(CheckRows.Expected("CO-gum-rl"), unit.ReturnLevel(200), 1e-9);
        Assert.Equal(CheckRows.Expected("CO-gum-med"), unit.OverBlocks(200).Quantile(0.5), 1e-9);
    }

    // Max-stability: F(z)^n, for any shape.
    [Theory]
    [InlineData(-0.3)]
    [InlineData(0.0)]
    [InlineData(0.2)]
    public void OverBlocks_AnyShape_IsThePower(double shape)
    {
        var unit = new GeneralisedExtremeValue(1, 0.5, shape);
        foreach (double z in (double[])[0.5, 1.5, 2.2])
            Assert.Equal(Math.Pow(unit.Cumulative(z), 7.5), unit.OverBlocks(7.5).Cumulative(z), 1e-12);
    }

    // Poisson number of excesses: P(max <= z) = exp(-mean * P(excess > z)).
    [Theory]
    [InlineData(-0.2)]
    [InlineData(0.0)]
    [InlineData(0.1845)]
    public void OfMaximum_IsThePoissonMixture(double shape)
    {
        var pareto = new GeneralisedPareto(30, 7.44, shape);
        GeneralisedExtremeValue largest = pareto.OfMaximum(12);
        foreach (double z in (double[])[40.0, 55, 60])
            Assert.Equal(Math.Exp(-12 * pareto.Exceedance(z)), largest.Cumulative(z), 1e-12);
    }
}
