using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class ToleranceTests
{
    [Theory]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(10)]
    [InlineData(15)]
    [InlineData(20)]
    [InlineData(30)]
    [InlineData(43)]
    [InlineData(50)]
    [InlineData(100)]
    [InlineData(500)]
    public void Factors_EqualTheCheckRows(int n)
    {
        // R 4.2.2: exact noncentral t and exact integral; rows allow 1e-6 relative.
        ReferenceData.Close(
            CheckRows.Expected($"TOL-k1-95-95-n{n}"),
            ToleranceFactor.OneSided(n, n - 1, 0.95, 0.95),
            1e-6
        );
        ReferenceData.Close(
            CheckRows.Expected($"TOL-k1-90-95-n{n}"),
            ToleranceFactor.OneSided(n, n - 1, 0.90, 0.95),
            1e-6
        );
        ReferenceData.Close(
            CheckRows.Expected($"TOL-k2-95-95-n{n}"),
            ToleranceFactor.TwoSided(n, n - 1, 0.95, 0.95),
            1e-6
        );
        ReferenceData.Close(
            CheckRows.Expected($"TOL-k2howe-95-95-n{n}"),
            ToleranceFactor.HoweTwoSided(n, n - 1, 0.95, 0.95),
            1e-9
        );
    }

    [Fact]
    public void Factors_EqualTheHandbookAndPrintedTable()
    {
        ReferenceData.Close(CheckRows.Expected("TOL-nist-k1exact"), ToleranceFactor.OneSided(43, 42, 0.9, 0.99), 1e-6);
        ReferenceData.Close(CheckRows.Expected("TOL-nist-k2exact"), ToleranceFactor.TwoSided(43, 42, 0.9, 0.99), 1e-6);
        Assert.Equal(CheckRows.Expected("P-TOL-nist-k1"), ToleranceFactor.NatrellaOneSided(43, 0.9, 0.99), 1e-6);
        Assert.Equal(CheckRows.Expected("P-TOL-nist-k2"), ToleranceFactor.HoweTwoSided(43, 42, 0.9, 0.99), 1e-6);
        Assert.Equal(CheckRows.Expected("P-TOL-rs-nct"), ToleranceFactor.OneSided(40, 39, 0.9, 0.99), 5e-5);
        // Berthouex and Brown, Table 21.1, two decimals.
        foreach (int n in (int[])[4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 25, 30, 40, 60])
            Assert.Equal(CheckRows.Expected($"P-TOL-2s-{n}"), ToleranceFactor.TwoSided(n, n - 1, 0.95, 0.95), 0.006);
    }

    [Fact]
    public void OrderStatistics_SmallestCounts_AreThoseOfTheClosedForm()
    {
        foreach (var row in ReferenceData.Of("wilks").EnumerateArray())
        {
            double share = row.Number("share");
            double confidence = row.Number("confidence");
            Assert.Equal((int)row.Number("one"), OrderStatisticTolerance.LeastCount(share, confidence, false));
            Assert.Equal((int)row.Number("two"), OrderStatisticTolerance.LeastCount(share, confidence, true));
        }
    }

    [Fact]
    public void OrderStatistics_Limits_UseTheExtremesAtTheLeastCountAndRefuseBelow()
    {
        double[] values = Enumerable.Range(1, 93).Select(i => (double)i).ToArray();
        Estimate both = OrderStatisticTolerance.Of(values, 0.95, 0.95, ToleranceSide.Both);
        Assert.Equal((1.0, 93.0), (both.Interval.Low, both.Interval.High));
        Estimate lower = OrderStatisticTolerance.Of(values.AsSpan(0, 59), 0.95, 0.95, ToleranceSide.Lower);
        Assert.Equal(1, lower.Interval.Low);
        // 93 values: the second smallest is a lower limit with confidence P(Binomial(93, 0.05) >= 2) = 0.9500 (Wilks, 93 for two ranks).
        Assert.Equal(2, OrderStatisticTolerance.Of(values, 0.95, 0.95, ToleranceSide.Lower).Interval.Low);
        Assert.Equal(92, OrderStatisticTolerance.Of(values, 0.95, 0.95, ToleranceSide.Upper).Interval.High);
        Estimate refused = OrderStatisticTolerance.Of(values.AsSpan(0, 92), 0.95, 0.95, ToleranceSide.Both);
        Assert.Equal(RefusalReason.TooFewClusters, refused.Refusal!.Reason);
        Assert.Equal(93, refused.Refusal.Needed);
        Assert.NotNull(OrderStatisticTolerance.Of(values.AsSpan(0, 58), 0.95, 0.95, ToleranceSide.Upper).Refusal);
    }

    [Fact]
    public void Interval_OneValueACluster_IsTheExactFactor()
    {
        double[] values = [1, 4, 2, 8, 5];
        Estimate made = ToleranceInterval.Of(ClusteredSample.Independent(values));
        // Mean 4, s = sqrt(7.5); factor of the check row for n = 5.
        double half = CheckRows.Expected("TOL-k2-95-95-n5") * Math.Sqrt(7.5);
        Assert.Equal(4 - half, made.Interval.Low, 1e-5);
        Assert.Equal(4 + half, made.Interval.High, 1e-5);
        Assert.Equal(
            RefusalReason.TooFewClusters,
            ToleranceInterval.Of(ClusteredSample.Independent(values.AsSpan(0, 4))).Refusal!.Reason
        );
    }

    [Fact]
    public void Interval_ManyCellsOnFewFeatures_CountsFeatures()
    {
        // 500 cells on each of 6 features that differ: nearly the interval of 6 independent values, far from that of 3000.
        double[] z = Statistics.StatisticsData.Normals(6 + 3000, 5);
        var values = new double[3000];
        var names = new string[3000];
        for (int i = 0; i < 3000; i++)
        {
            values[i] = z[i % 6] + 1e-4 * z[6 + i];
            names[i] = $"feature {i % 6}";
        }
        var sample = new ClusteredSample(values, new Factor("feature", names));
        Estimate clustered = ToleranceInterval.Of(sample, side: ToleranceSide.Upper);
        Estimate six = ToleranceInterval.Of(ClusteredSample.Independent(sample.Means), side: ToleranceSide.Upper);
        ReferenceData.Close(six.Interval.High, clustered.Interval.High, 1e-4);
        Assert.Equal((6, 3000), (clustered.Units, clustered.Observations));
        Estimate both = ToleranceInterval.Of(sample);
        Estimate howe = ToleranceInterval.Of(ClusteredSample.Independent(sample.Means));
        // Howe's form is within 2 % of the exact factor at 6 values.
        ReferenceData.Close(howe.Interval.High - howe.Value, both.Interval.High - both.Value, 0.02);
    }
}
