using EchoToThickness.Statistics;
using EchoToThickness.Tests.Statistics;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Effects;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class BiasTests
{
    [Theory]
    [InlineData("Lew", 1e-12)]
    [InlineData("Mavro", 1e-12)]
    [InlineData("Michelso", 1e-12)]
    [InlineData("Lottery", 1e-12)]
    [InlineData("NumAcc1", 1e-12)]
    public void OfClusterMeans_NistSamples_MeetTheCertifiedMoments(string name, double relative)
    {
        double[] values = StatisticsData.Nist(name);
        Estimate found = Bias.OfClusterMeans(ClusteredSample.Independent(values), leastClusters: 3);
        ReferenceData.Close(CheckRows.Expected($"NIST-{name}-mean"), found.Value, relative);
        ReferenceData.Close(
            CheckRows.Expected($"NIST-{name}-sd"),
            found.StandardError * Math.Sqrt(values.Length),
            1e-11
        );
    }

    [Fact]
    public void OfClusterMeans_IndependentValues_IsTheTIntervalOfTheCheckRow()
    {
        double[] wright = StatisticsData.Column("bland_altman_1986_pefr", 0);
        double[] mini = StatisticsData.Column("bland_altman_1986_pefr", 1);
        double[] difference = wright.Zip(mini, (a, b) => a - b).ToArray();
        Estimate found = Bias.OfClusterMeans(ClusteredSample.Independent(difference));
        ReferenceData.Close(CheckRows.Expected("BA-mean"), found.Value, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-ci-lo"), found.Interval.Low, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-ci-hi"), found.Interval.High, 1e-8);
        // One value a cluster: the robust interval is the same one.
        Estimate robust = Bias.OfReadings(ClusteredSample.Independent(difference));
        ReferenceData.Close(found.StandardError, robust.StandardError, 1e-12);
        ReferenceData.Close(found.Interval.High, robust.Interval.High, 1e-9);
        ReferenceData.Close(found.DegreesOfFreedom, robust.DegreesOfFreedom, 1e-9);
    }

    [Fact]
    public void Intervals_CopiedCells_DoNotShrink()
    {
        double[] means = [0.1, -0.2, 0.05, 0.3, 0.0, 0.12];
        double[] copied = Enumerable.Range(0, 600).Select(i => means[i % 6]).ToArray();
        var sample = new ClusteredSample(
            copied,
            new Factor("step", Enumerable.Range(0, 600).Select(i => $"{i % 6}").ToArray())
        );
        Estimate few = Bias.OfClusterMeans(ClusteredSample.Independent(means));
        ReferenceData.Close(few.Interval.High, Bias.OfClusterMeans(sample).Interval.High, 1e-12);
        ReferenceData.Close(few.Interval.High, Bias.OfReadings(sample).Interval.High, 1e-12);
        Assert.Equal(6, Bias.OfReadings(sample).Units);
    }

    [Fact]
    public void OfClusterMeans_FewClusters_IsRefusedWithBothNumbers()
    {
        var sample = new ClusteredSample([1, 2, 3, 4], new Factor("step", ["a", "a", "b", "b"]));
        Estimate found = Bias.OfClusterMeans(sample);
        Assert.Equal(RefusalReason.TooFewClusters, found.Refusal!.Reason);
        Assert.Equal((2.0, 5.0), (found.Refusal.Found, found.Refusal.Needed));
        Assert.Equal(2.5, found.Value);
        Assert.False(found.Interval.IsKnown);
        Assert.False(EquivalenceTest.Of(found, -1, 9).IsEquivalent);
        Assert.Throws<StatisticsException>(() => new ClusteredSample([1, double.NaN], new Factor("step", ["a", "b"])));
    }

    [Fact]
    public void LinearModel_ClusterRobust_EqualsDenseMatrices()
    {
        // SciPy reference: CR2 by n x n matrices and eigenvalues of the quadratic form.
        var reference = ReferenceData.Of("cr2");
        double[] y = reference.Numbers("y");
        LinearModel model = LinearModel.Fit(
            y,
            [LinearColumn.One(y.Length), new("x1", reference.Numbers("x1")), new("x2", reference.Numbers("x2"))],
            0.95,
            out _,
            new Factor("cluster", reference.Names("cluster"))
        )!;
        for (int j = 0; j < 3; j++)
        {
            ReferenceData.Close(reference.Numbers("beta")[j], model.Coefficients[j].Value, 1e-9);
            ReferenceData.Close(reference.Numbers("se")[j], model.Coefficients[j].StandardError, 1e-9);
            ReferenceData.Close(reference.Numbers("dof")[j], model.Coefficients[j].DegreesOfFreedom, 1e-8);
        }
        // The mean alone gives what Bias gives.
        var sample = new ClusteredSample(y, new Factor("cluster", reference.Names("cluster")));
        LinearModel mean = LinearModel.Fit(
            y,
            [LinearColumn.One(y.Length)],
            0.95,
            out _,
            new Factor("cluster", reference.Names("cluster"))
        )!;
        Estimate bias = Bias.OfReadings(sample);
        ReferenceData.Close(mean.Coefficients[0].StandardError, bias.StandardError, 1e-9);
        ReferenceData.Close(mean.Coefficients[0].DegreesOfFreedom, bias.DegreesOfFreedom, 1e-9);
    }

    [Fact]
    public void Grubbs_And_GeneralisedDeviate_HandbookExample()
    {
        // Rosner's 54 values as in NIST/SEMATECH e-Handbook 1.3.5.17.3 (from memory): three outliers at level 0.05;
        // R = 3.118, 2.942, 3.179, 2.810; critical 3.158, 3.151, 3.143, 3.136.
        double[] values =
        [
            -0.25,
            0.68,
            0.94,
            1.15,
            1.20,
            1.26,
            1.26,
            1.34,
            1.38,
            1.43,
            1.49,
            1.49,
            1.55,
            1.56,
            1.58,
            1.65,
            1.69,
            1.70,
            1.76,
            1.77,
            1.81,
            1.91,
            1.94,
            1.96,
            1.99,
            2.06,
            2.09,
            2.10,
            2.14,
            2.15,
            2.23,
            2.24,
            2.26,
            2.35,
            2.37,
            2.40,
            2.47,
            2.54,
            2.62,
            2.64,
            2.90,
            2.92,
            2.92,
            2.93,
            3.21,
            3.26,
            3.30,
            3.59,
            3.68,
            4.30,
            4.64,
            5.34,
            5.42,
            6.01,
        ];
        OutlierResult found = OutlierTest.GeneralisedDeviate(values, 10);
        Assert.Equal([53, 52, 51], found.Flagged);
        double[] statistic = [3.118, 2.942, 3.179, 2.810, 2.815, 2.848, 2.279, 2.310, 2.101, 2.067];
        double[] critical = [3.158, 3.151, 3.143, 3.136, 3.128, 3.120, 3.111, 3.103, 3.094, 3.085];
        for (int k = 0; k < 10; k++)
        {
            Assert.Equal(statistic[k], found.Statistics[k], 1.5e-3);
            Assert.Equal(critical[k], found.CriticalValues[k], 1.5e-3);
        }
        // Grubbs on the same data: the farthest value alone is not an outlier, because its neighbours mask it.
        Assert.Empty(OutlierTest.Grubbs(values).Flagged);
        Assert.Equal([4], OutlierTest.Grubbs([1.0, 1.1, 0.9, 1.05, 9.0, 1.0]).Flagged);
        Assert.Empty(OutlierTest.Grubbs([1.0, 1.0, 1.0, 1.0]).Flagged);
        Assert.Equal(RefusalReason.TooFewObservations, OutlierTest.Grubbs([1.0, 2.0]).Refusal!.Reason);
    }

    [Fact]
    public void Cochran_CriticalValue_OfTheStandardsTable()
    {
        // ISO 5725-2 table of Cochran's critical values, 5 %: p = 6 laboratories, n = 3: 0.616; p = 10, n = 2: 0.602 (from memory).
        Assert.Equal(0.616, OutlierTest.Cochran([1, 1, 1, 1, 1, 2], 3).CriticalValues[0], 1e-3);
        Assert.Equal(0.602, OutlierTest.Cochran([1, 1, 1, 1, 1, 1, 1, 1, 1, 2], 2).CriticalValues[0], 1e-3);
        Assert.Equal([1], OutlierTest.Cochran([1, 40, 1, 1, 1, 1], 3).Flagged);
    }

    [Fact]
    public void Equivalence_IntervalAndTestAgree()
    {
        Estimate bias = Bias.OfClusterMeans(ClusteredSample.Independent([0.1, 0.2, 0.15, 0.05, 0.3, 0.12]));
        EquivalenceResult inside = EquivalenceTest.Of(bias, -0.3, 0.3);
        Assert.True(inside.IsEquivalent);
        Assert.InRange(inside.Interval.High, 0, 0.3);
        // A tolerance that ends exactly at the interval's end has probability 0.05 exactly: the test is its own inverse.
        Assert.Equal(0.05, EquivalenceTest.Of(bias, -0.3, inside.Interval.High).UpperProbability, 1e-10);
        Assert.False(EquivalenceTest.Of(bias, -0.3, 0.17).IsEquivalent);
    }
}
