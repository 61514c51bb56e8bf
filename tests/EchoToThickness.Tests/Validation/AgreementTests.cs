using EchoToThickness.Tests.Statistics;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Detection;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class AgreementTests
{
    [Fact]
    public void BlandAltman_PaperOf1986_EqualsTheCheckRows()
    {
        double[] wright = StatisticsData.Column("bland_altman_1986_pefr", 0);
        double[] mini = StatisticsData.Column("bland_altman_1986_pefr", 1);
        ClusteredSample difference = ClusteredSample.Independent(wright.Zip(mini, (a, b) => a - b).ToArray());
        BlandAltman paper = BlandAltman.Of(difference, multiplier: 2, useApproximation: true);
        ReferenceData.Close(CheckRows.Expected("BA-mean"), paper.Bias.Value, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-sd"), paper.Deviation, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-lo2"), paper.LowerLimit.Value, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-hi2"), paper.UpperLimit.Value, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-lol-lo"), paper.LowerLimit.Interval.Low, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-lol-hi"), paper.LowerLimit.Interval.High, 1e-8);
        BlandAltman modern = BlandAltman.Of(difference, wright.Zip(mini, (a, b) => (a + b) / 2).ToArray());
        ReferenceData.Close(CheckRows.Expected("BA-lo196"), modern.LowerLimit.Value, 1e-8);
        ReferenceData.Close(CheckRows.Expected("BA-hi196"), modern.UpperLimit.Value, 1e-8);
        Assert.True(modern.UpperLimit.Interval.Contains(modern.UpperLimit.Value));
        // The outer end lies farther: a deviation can be much larger than seen, not much smaller.
        Assert.True(
            modern.UpperLimit.Interval.High - modern.UpperLimit.Value
                > modern.UpperLimit.Value - modern.UpperLimit.Interval.Low
        );
        Assert.True(modern.Trend!.Interval.Contains(0));
    }

    [Fact]
    public void BlandAltman_RepeatedReadings_UseBothComponents()
    {
        // Two readings of each of six features: total variance by hand from the one-way analysis.
        double[] values = [1, 3, 2, 4, 5, 7, 0, 2, 3, 5, 4, 6];
        string[] names = ["a", "a", "b", "b", "c", "c", "d", "d", "e", "e", "f", "f"];
        BlandAltman found = BlandAltman.Of(new ClusteredSample(values, new Factor("feature", names)));
        // Within: each pair has variance 2. Means 2, 3, 6, 1, 4, 5: variance 3.5; between 3.5 - 2 / 2 = 2.5; total 4.5.
        ReferenceData.Close(Math.Sqrt(4.5), found.Deviation, 1e-12);
        Assert.Equal((6, 12), (found.Bias.Units, found.UpperLimit.Observations));
    }

    [Fact]
    public void MeasuredOnTrue_Norris_EqualsTheCertifiedLine()
    {
        double[][] rows = ReferenceData.NistRows("Norris");
        Observation[] seen = rows.Select((r, i) => new Observation(r[0], r[1], $"{i}")).ToArray();
        MeasuredOnTrue line = MeasuredOnTrue.Of(seen, out _)!;
        ReferenceData.Close(CheckRows.ExpectedList("NIST-Norris-B0")[0], line.Intercept.Value, 1e-9);
        ReferenceData.Close(CheckRows.ExpectedList("NIST-Norris-B0")[1], line.Intercept.StandardError, 1e-9);
        ReferenceData.Close(CheckRows.ExpectedList("NIST-Norris-B1")[0], line.Slope.Value, 1e-9);
        ReferenceData.Close(CheckRows.ExpectedList("NIST-Norris-B1")[1], line.Slope.StandardError, 1e-9);
        ReferenceData.Close(CheckRows.ExpectedList("NIST-Norris-s")[0], line.ResidualDeviation, 1e-8);
        Assert.Equal(34, line.Slope.DegreesOfFreedom);
    }

    [Fact]
    public void MeasuredOnTrue_PerfectScaleAndCurvature_AreToldApart()
    {
        double[] z = StatisticsData.Normals(60, 4);
        Observation Of(int i, double bend) =>
            new(4 + 2 * (i % 5) + bend * Math.Pow(i % 5 - 2, 2) + 0.05 * z[i], 4 + 2 * (i % 5), $"{i}");
        MeasuredOnTrue straight = MeasuredOnTrue.Of(Enumerable.Range(0, 60).Select(i => Of(i, 0)).ToArray(), out _)!;
        Assert.True(straight.Identity.Probability > 0.01);
        Assert.True(straight.LackOfFit!.Probability > 0.01);
        Assert.True(straight.Curvature!.Interval.Contains(0));
        MeasuredOnTrue bent = MeasuredOnTrue.Of(Enumerable.Range(0, 60).Select(i => Of(i, 0.05)).ToArray(), out _)!;
        Assert.True(bent.LackOfFit!.Probability < 1e-6);
        // The parabola has 0.05 per step squared, and a step is 2: 0.0125 per unit of truth squared.
        Assert.True(bent.Curvature!.Interval.Contains(0.0125));
        Assert.Equal(3, bent.LackOfFit.DegreesOfFreedom);
        // A line without spread: clusters that repeat the truth exactly still give a slope, and no interval of zero width about a guess.
        MeasuredOnTrue exact = MeasuredOnTrue.Of(
            Enumerable.Range(0, 6).Select(i => new Observation(i, i, $"{i}")).ToArray(),
            out _
        )!;
        Assert.Equal(1, exact.Slope.Value, 1e-12);
        Assert.Equal(0, exact.LargestDeparture.Value, 1e-12);
        Assert.Null(MeasuredOnTrue.Of([new(1, 5, "a"), new(2, 5, "b"), new(3, 5, "c")], out Refusal? refusal));
        Assert.Equal(RefusalReason.NotIdentified, refusal!.Reason);
        Observation[] few = Enumerable.Range(0, 40).Select(i => Of(i, 0) with { Cluster = $"{i % 4}" }).ToArray();
        Assert.Equal(RefusalReason.TooFewClusters, MeasuredOnTrue.Of(few, out _)!.Slope.Refusal!.Reason);
    }

    [Fact]
    public void York_PearsonsData_EqualsOrthogonalDistanceRegression()
    {
        // Published solution (from memory): a = 5.47991, b = -0.48053; standard errors 0.295, 0.058.
        var reference = ReferenceData.Of("york");
        double[] ux = reference.Numbers("wx").Select(w => 1 / Math.Sqrt(w)).ToArray();
        double[] uy = reference.Numbers("wy").Select(w => 1 / Math.Sqrt(w)).ToArray();
        ErrorsInVariables found = ErrorsInVariables.Weighted(
            reference.Numbers("x"),
            ux,
            reference.Numbers("y"),
            uy,
            out _
        )!;
        ReferenceData.Close(reference.Number("a"), found.Intercept.Value, 1e-6);
        ReferenceData.Close(reference.Number("b"), found.Slope.Value, 1e-6);
        ReferenceData.Close(reference.Number("chi2"), found.ChiSquared, 1e-6);
        Assert.Equal(0.294970735, found.Intercept.StandardError, 1e-6);
        Assert.Equal(0.0579850090, found.Slope.StandardError, 1e-7);
    }

    [Fact]
    public void Deming_EqualUncertainties_IsYorksLine()
    {
        double[] x = [4, 6, 8, 10, 12, 14];
        double[] y = [4.1, 5.8, 8.3, 9.9, 12.2, 13.7];
        double[] one = [1, 1, 1, 1, 1, 1];
        Observation[] seen = x.Select((t, i) => new Observation(y[i], t, $"{i}")).ToArray();
        ErrorsInVariables deming = ErrorsInVariables.Deming(seen, 1, out _)!;
        ErrorsInVariables york = ErrorsInVariables.Weighted(x, one, y, one, out _)!;
        ReferenceData.Close(york.Slope.Value, deming.Slope.Value, 1e-10);
        ReferenceData.Close(york.Intercept.Value, deming.Intercept.Value, 1e-8);
        // A ratio without limit is least squares.
        MeasuredOnTrue ols = MeasuredOnTrue.Of(seen, out _)!;
        ReferenceData.Close(ols.Slope.Value, ErrorsInVariables.Deming(seen, 1e9, out _)!.Slope.Value, 1e-7);
        Assert.Null(ErrorsInVariables.Deming(seen[..4], 1, out Refusal? refusal));
        Assert.Equal(RefusalReason.TooFewClusters, refusal!.Reason);
    }

    [Fact]
    public void ByGroup_SplitsAndWidens()
    {
        double[] z = StatisticsData.Normals(120, 8);
        Observation[] seen = Enumerable
            .Range(0, 120)
            .Select(i => new Observation(8 + (i % 2 == 0 ? 0.2 : 0) + 0.02 * z[i], 8, $"{i % 12}"))
            .ToArray();
        var type = new Factor("type", seen.Select((_, i) => i % 2 == 0 ? "pit" : "step").ToArray());
        IReadOnlyList<AccuracyStatement> found = AccuracyStatement.ByGroup(seen, type, 0.3);
        Assert.Equal(["pit", "step"], found.Select(s => s.Name));
        Assert.True(found[0].Bias.Interval.Contains(0.2));
        Assert.True(found[1].Bias.Interval.Contains(0));
        Assert.Equal(6, found[0].Bias.Units);
        Assert.True(found[0].Equivalence!.IsEquivalent);
        IReadOnlyList<AccuracyStatement> wide = AccuracyStatement.ByGroup(seen, type, 0.3, areSimultaneous: true);
        Assert.Equal(0.975, wide[0].Bias.Interval.Confidence, 1e-12);
        Assert.True(wide[0].Bias.Interval.High > found[0].Bias.Interval.High);
        AccuracyStatement few = AccuracyStatement.Of(
            "two",
            ClusteredSample.Errors(seen.Where((_, i) => i % 12 < 2).ToArray()),
            0.3
        );
        Assert.Equal(RefusalReason.TooFewClusters, few.Deviation.Refusal!.Reason);
        Assert.False(few.Equivalence!.IsEquivalent);
    }

    [Fact]
    public void Location_ByHand_AndSizingCountsMisses()
    {
        double[] along = [1, 2, 3, 4, 5, 6];
        double[] across = [1, -1, 1, -1, 1, -1];
        var features = new Factor("feature", ["a", "b", "c", "d", "e", "f"]);
        LocationError found = LocationError.Of(along, across, features, share: 0.5, confidence: 0.9);
        Assert.Equal(3.5, found.Along.Value, 1e-12);
        Assert.Equal(Math.Sqrt((91 + 6) / 6.0), found.RootMeanSquare, 1e-12);
        // T² by hand: covariance of means [3.5, -0.6; -0.6, 1.2] / 6, mean (3.5, 0): 3.5² * 1.2 * 6 / (3.5 * 1.2 - 0.36) = 22.97;
        // F = T² (6 - 2) / (2 * 5) = 9.1875 on (2, 4): P = (1 + 2 F / 4)^-2 = 0.03203.
        Assert.Equal(Math.Pow(1 + 9.1875 / 2, -2), found.OffsetProbability, 1e-9);
        // Upper limit of half of the features with confidence 0.9: the fifth of six has 1 - 0.5^6 (1 + 6) = 0.891, so the largest.
        Assert.Equal(Math.Sqrt(37), found.UpperDistance.Interval.High, 1e-12);
        SizingError sizing = SizingError.Of(
            "diameter",
            Enumerable
                .Range(0, 8)
                .Select(i => new Observation(3.1 + i * 0.9 + 0.05 * (i % 3), 3 + i, $"{i}"))
                .ToArray(),
            2,
            0.5
        );
        Assert.Equal(2, sizing.MissedFeatures);
        Assert.True(sizing.Line!.Slope.Interval.Contains(0.9));
    }
}
