using EchoToThickness.Validation.Planning;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class PlanningTests
{
    [Fact]
    public void EquivalencePower_EqualsIntegration()
    {
        foreach (var row in ReferenceData.Of("tost_power").EnumerateArray())
        {
            int n = (int)row.Number("n");
            double power = SampleSize.EquivalencePower(n, row.Number("sd"), row.Number("bias"), row.Number("delta"));
            Assert.Equal(row.Number("power"), power, 2e-5);
        }
        int count = SampleSize.EquivalenceClusters(0.25, 0.1, 0.3, 0.8)!.Value;
        Assert.True(SampleSize.EquivalencePower(count, 0.25, 0.1, 0.3) >= 0.8);
        Assert.True(SampleSize.EquivalencePower(count - 1, 0.25, 0.1, 0.3) < 0.8);
        Assert.Null(SampleSize.EquivalenceClusters(0.25, 0.3, 0.3));
    }

    [Fact]
    public void Demonstration_EqualsTheCheckRows()
    {
        for (int misses = 0; misses <= 5; misses++)
            Assert.Equal(
                (int)CheckRows.Expected($"BIN-9095-m{misses}"),
                SampleSize.DemonstrationFeatures(0.9, 0.95, misses)
            );
        ReferenceData.Close(CheckRows.Expected("BIN-0.9^29"), SampleSize.DemonstrationPower(29, 0, 0.9), 1e-9);
        // 46 features, one miss: 0.97^46 + 46 * 0.03 * 0.97^45.
        ReferenceData.Close(
            Math.Pow(0.97, 46) + 46 * 0.03 * Math.Pow(0.97, 45),
            SampleSize.DemonstrationPower(46, 1, 0.97),
            1e-9
        );
    }

    [Fact]
    public void Deviations_TableValues()
    {
        // chi-squared(0.025, 10) = 3.247: sqrt(10 / 3.247) = 1.755.
        Assert.Equal(1.755, SampleSize.DeviationRatio(10), 1e-3);
        int dof = SampleSize.DeviationDegreesOfFreedom(1.25)!.Value;
        Assert.True(SampleSize.DeviationRatio(dof) <= 1.25 && SampleSize.DeviationRatio(dof - 1) > 1.25);
        Assert.Null(SampleSize.DeviationDegreesOfFreedom(1));
        Assert.Equal(1 + 99 * 0.2, SampleSize.DesignEffect(100, 0.2), 1e-12);
        Assert.Equal(Math.Sqrt(0.04 + 0.09 / 9), SampleSize.ClusterMeanDeviation(0.2, 0.3, 9), 1e-12);
        Assert.Equal(
            Math.Sqrt(1.0 / 2 + 4.0 / 6 + 9.0 / 24 + 16.0 / 120),
            SampleSize.MeanError(new(1, 2, 3, 4), new(2, 3, 4, 5)),
            1e-12
        );
    }

    [Fact]
    public void Tolerance_WidthTendsToTheNormalQuantile()
    {
        Assert.Equal(1.96, SampleSize.ToleranceHalfWidth(100_000, 1), 0.02);
        // E[s] of five values is 0.9400 sigma (c4 table): 5.0769 * 0.9400.
        Assert.Equal(5.0769 * 0.9400, SampleSize.ToleranceHalfWidth(5, 1), 1e-3);
        int n = SampleSize.ToleranceClusters(0.1, 0.02, 0.3)!.Value;
        Assert.True(SampleSize.TolerancePower(n, 0.1, 0.02, 0.3) >= 0.9);
        Assert.True(SampleSize.TolerancePower(n - 1, 0.1, 0.02, 0.3) < 0.9);
        Assert.Null(SampleSize.ToleranceClusters(0.16, 0, 0.3));
    }

    [Fact]
    public void DetectionPlan_MoreFeatures_SucceedMoreOften()
    {
        double[] Sizes(int n) => Enumerable.Range(0, n).Select(i => 0.5 * Math.Pow(12, i / (n - 1.0))).ToArray();
        DetectionPlan few = DetectionPlan.Simulate(1, 2, Sizes(60), 2.8, 1, 100);
        DetectionPlan many = DetectionPlan.Simulate(1, 2, Sizes(240), 2.8, 1, 100);
        Assert.True(many.Success.Interval.Low > few.Success.Interval.High, $"{few.Success.Value} {many.Success.Value}");
        // Stated confidence 0.95; 4 standard errors of 100 trials are 0.088.
        Assert.InRange(many.Coverage.Value, 0.95 - 0.088, 1);
        Assert.Equal(many, DetectionPlan.Simulate(1, 2, Sizes(240), 2.8, 1, 100));
    }
}
