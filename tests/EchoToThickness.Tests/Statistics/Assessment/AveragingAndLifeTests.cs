using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Assessment;
using Xunit;

namespace EchoToThickness.Tests.Statistics.Assessment;

/// <summary>API 579-1 Parts 4 and 5 and API 570 beside the check rows; what the rows call from memory stays unverified here.</summary>
public sealed class AveragingAndLifeTests
{
    [Theory]
    [InlineData("0.9")]
    [InlineData("0.895")]
    [InlineData("0.85")]
    [InlineData("0.8")]
    [InlineData("0.6")]
    [InlineData("0.2")]
    public void AveragingParameter_EqualsTheFormula(string ratio)
    {
        double expected = CheckRows.Expected($"CO-579-Q-{ratio}");
        double found = ThicknessAveraging.AveragingParameter(
            double.Parse(ratio, System.Globalization.CultureInfo.InvariantCulture)
        );
        Assert.Equal(expected, found, expected * 1e-9);
    }

    [Theory]
    [InlineData("0")]
    [InlineData("0.5")]
    [InlineData("1")]
    [InlineData("3")]
    [InlineData("8")]
    [InlineData("20")]
    public void Folias_EqualsTheTable(string lambda)
    {
        double value = double.Parse(lambda, System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(CheckRows.Expected($"CO-579-Mt-{lambda}"), ThicknessAveraging.CylinderFolias(value), 1e-9);
        Assert.Equal(CheckRows.Expected($"CO-579-Ms-{lambda}"), ThicknessAveraging.SphereFolias(value), 1e-9);
        // Capped at 20; and not the value of the misprinted coefficient.
        Assert.Equal(ThicknessAveraging.CylinderFolias(20), ThicknessAveraging.CylinderFolias(30));
        Assert.True(Math.Abs(ThicknessAveraging.CylinderFolias(20) - CheckRows.Expected("CO-579-9th")) > 100);
    }

    [Fact]
    public void LocalThinArea_EqualsTheRows()
    {
        StrengthFactor found = ThicknessAveraging
            .LocalThinArea(ComponentKind.CylindricalShell, 1.5, 14e-3, 8e-3, 0.15)
            .Value!;
        Assert.Equal(CheckRows.Expected("CO-579-5-lam"), found.Lambda, 1e-10);
        Assert.Equal(CheckRows.Expected("CO-579-5-RSF"), found.Factor, 1e-9);
        Assert.Equal(CheckRows.Expected("CO-579-5-MAWPr"), 2 * found.PressureShare, 1e-9);
        Assert.True(ThicknessAveraging.LocalThinArea(ComponentKind.Bend, 1.5, 14e-3, 8e-3, 0.15).IsRefused);
        Assert.True(ThicknessAveraging.LocalThinArea(ComponentKind.CylindricalShell, 1.5, 14e-3, 2e-3, 0.15).IsRefused);
    }

    [Fact]
    public void Level1_UniformAndLocalLoss_AveragesOverTheLength()
    {
        var input = new ThicknessAveragingInput
        {
            Component = ComponentKind.CylindricalShell,
            InsideDiameterMetres = 1.5,
            RequiredWallMetres = 12e-3,
        };
        double[] x = Enumerable.Range(0, 201).Select(k => k * 5e-3).ToArray();
        double[] even = Enumerable.Repeat(0.6 * 12e-3, 201).ToArray();
        AveragedWall uniform = ThicknessAveraging.Level1(input, x, even).Value!;
        Assert.Equal(CheckRows.Expected("CO-579-L"), uniform.LengthMetres * 1e3, 1e-7);
        Assert.Equal(7.2e-3, uniform.AveragedWallMetres, 1e-12);
        Assert.False(uniform.PassesAverage);
        // One place of 7.2 mm in 13 mm: Rt = 0.6, L = 99.94 mm; the triangle of 10 mm base loses 5.8 mm / 2 over 10 mm of it.
        double[] local = Enumerable.Repeat(13e-3, 201).ToArray();
        local[100] = 7.2e-3;
        AveragedWall found = ThicknessAveraging.Level1(input, x, local).Value!;
        Assert.Equal(13e-3 - 5.8e-3 * 5e-3 / found.LengthMetres, found.AveragedWallMetres, 1e-12);
        Assert.True(found.PassesAverage && found.PassesMinimum);
        Assert.True(ThicknessAveraging.Level1(input with { Component = ComponentKind.Bend }, x, local).IsRefused);
    }

    [Fact]
    public void CoefficientOfVariation_EqualsTheRow()
    {
        double[] walls = [13.2, 12.9, 12.4, 13.0, 12.7, 12.1, 12.8, 13.1, 12.6, 12.9, 12.5, 13.3, 12.7, 12.2, 12.8];
        Assert.Equal(CheckRows.Expected("CO-579-COV"), 100 * ThicknessAveraging.CoefficientOfVariation(walls), 1e-8);
    }

    [Fact]
    public void CorrosionRate_EqualsTheRows()
    {
        CorrosionRate longTerm = CorrosionRate.Between(7.8e-3, 3.24e-3, 15);
        CorrosionRate shortTerm = CorrosionRate.Between(10.2e-3, 9.6e-3, 4, 0.1e-3, 0.1e-3);
        Assert.Equal(CheckRows.Expected("CO-570-LT"), longTerm.MetresPerYear * 1e3, 0.0005);
        Assert.Equal(CheckRows.Expected("CO-570-ST"), shortTerm.MetresPerYear * 1e3, 1e-12);
        Assert.Equal(CheckRows.Expected("CO-570-urate"), shortTerm.StandardUncertaintyMetresPerYear * 1e3, 1e-10);
        Assert.Same(longTerm, CorrosionRate.Governing(longTerm, shortTerm));
        Assert.True(CorrosionRate.Between(9.6e-3, 9.7e-3, 4).SeemsToGrow);
    }

    private static RemainingLifeInput Life(double wall, double required, double rate, double uncertainty = 0) =>
        new()
        {
            WallMetres = wall,
            RequiredWallMetres = required,
            Rate = new CorrosionRate(rate, uncertainty, rate < 0),
        };

    [Fact]
    public void Of_PublishedSheets_GiveTheLife()
    {
        LifeEstimate sheet = RemainingLife.Of(Life(3.24e-3, 0.37e-3, 0.34e-3)).Value!;
        Assert.Equal(CheckRows.Expected("CO-570-RL"), sheet.Years, 0.0005);
        // Without uncertainty the draws are all the same.
        Assert.Equal(sheet.Years, sheet.LowerYears, 1e-12);
        Assert.Equal(sheet.Years, sheet.UpperYears, 1e-12);
        Assert.Equal(CheckRows.Expected("CO-570-RL2"), RemainingLife.Of(Life(0.375, 0.25, 0.02)).Value!.Years, 1e-12);
        LifeEstimate half = RemainingLife.Of(Life(26e-3, 10e-3, 1e-3) with { ClassLimitYears = 10 }).Value!;
        Assert.Equal(CheckRows.Expected("CO-570-half"), half.NextInspectionYears);
        Assert.Equal(
            5,
            RemainingLife.Of(Life(26e-3, 10e-3, 1e-3) with { ClassLimitYears = 5 }).Value!.NextInspectionYears
        );
    }

    [Fact]
    public void Of_GrowingWall_IsRefusedNotInfinite()
    {
        Assert.True(RemainingLife.Of(Life(9e-3, 5e-3, -1e-4)).IsRefused);
        Assert.True(RemainingLife.Of(Life(9e-3, 5e-3, 0)).IsRefused);
        Assert.Equal(0, RemainingLife.Of(Life(4e-3, 5e-3, 1e-4)).Value!.Years);
    }

    // Only the rate is uncertain: P(life < L) = P(rate > spare / L), so the ends are spare / (rate +- 1.96 u).
    [Fact]
    public void Of_UncertainRate_HasTheClosedFormInterval()
    {
        LifeEstimate life = RemainingLife.Of(Life(9e-3, 5e-3, 0.2e-3, 0.03e-3) with { Draws = 100_000 }).Value!;
        // Three standard errors of a 2.5 % quantile of 100,000 draws are below 0.05 deviations of the rate.
        double error = 0.05 * 0.03e-3;
        Assert.Equal(4e-3 / (0.2e-3 + 1.959964 * 0.03e-3), life.LowerYears, 4e-3 * error / Math.Pow(0.25e-3, 2));
        Assert.Equal(4e-3 / (0.2e-3 - 1.959964 * 0.03e-3), life.UpperYears, 4e-3 * error / Math.Pow(0.14e-3, 2));
        Assert.Equal(20, life.MedianYears, 0.1);
        Assert.Equal(0, life.ProbabilityAlreadyBelow);
    }
}
