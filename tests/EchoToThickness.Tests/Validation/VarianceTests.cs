using EchoToThickness.Statistics;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Variance;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class VarianceTests
{
    [Fact]
    public void OneWay_CheckRows_ToNineDigits()
    {
        double[] values = [10.02, 10.05, 9.98, 9.71, 9.74, 9.69, 10.21, 10.25, 10.20];
        string[] place = ["a", "a", "a", "b", "b", "b", "c", "c", "c"];
        OneWayAnalysis found = OneWayAnalysis.Of(new ClusteredSample(values, new Factor("place", place)))!;
        ReferenceData.Close(CheckRows.Expected("ANOVA-msb"), found.Between.Value, 1e-9);
        ReferenceData.Close(CheckRows.Expected("ANOVA-msw"), found.Within.Value, 1e-9);
        ReferenceData.Close(CheckRows.Expected("ANOVA-sr"), found.Repeatability().Value, 1e-9);
        ReferenceData.Close(CheckRows.Expected("ANOVA-sb"), found.BetweenGroups().Value, 1e-9);
        ReferenceData.Close(CheckRows.Expected("ANOVA-icc"), found.IntraclassCorrelation, 1e-9);
        ReferenceData.Close(CheckRows.Expected("ANOVA-F"), found.Between.Statistic, 1e-9);
        ReferenceData.Close(CheckRows.Expected("ANOVA-p"), found.Between.Probability, 1e-6);
    }

    [Theory]
    [InlineData("AtmWtAg", 1e-6)]
    [InlineData("SiRstv", 1e-9)]
    [InlineData("SmLs01", 1e-9)]
    [InlineData("SmLs04", 1e-6)]
    public void OneWay_NistSets_MeetTheCertifiedValues(string name, double relative)
    {
        double[][] rows = ReferenceData.NistRows(name);
        double[] values = rows.Select(r => r[1]).ToArray();
        var group = new Factor("treatment", rows.Select(r => $"{r[0]}").ToArray());
        OneWayAnalysis found = OneWayAnalysis.Of(new ClusteredSample(values, group))!;
        double[] expected = CheckRows.ExpectedList($"NIST-{name}-F");
        ReferenceData.Close(expected[0], found.Between.SumOfSquares, relative);
        ReferenceData.Close(expected[1], found.Within.SumOfSquares, relative);
        ReferenceData.Close(expected[2], found.Between.Statistic, relative);
    }

    [Fact]
    public void Gauge_TenPartsThreeOperators_EqualsTheTextbook()
    {
        (double[] values, Factor parts, Factor operators) = TextbookGauge();
        GaugeStudy full = GaugeStudy.Of(values, parts, operators);
        // Sums of squares printed in manuals of measurement systems analysis (from memory, four decimals).
        Assert.Equal(88.3619, full.Table[0].SumOfSquares, 1e-4);
        Assert.Equal(3.1673, full.Table[1].SumOfSquares, 1e-4);
        Assert.Equal(0.3590, full.Table[2].SumOfSquares, 1e-4);
        Assert.Equal(2.7589, full.Table[3].SumOfSquares, 1e-4);
        // Interaction pooled (its probability is 0.974): printed deviations 0.199933, 0.226838, 0.302373, 1.042327, 4 categories (from memory).
        GaugeStudy pooled = GaugeStudy.Of(values, parts, operators, poolAbove: 0.25);
        Assert.Null(pooled.Interaction);
        Assert.Equal(0.199933, pooled.Repeatability.Deviation.Value, 1e-6);
        Assert.Equal(0.226838, pooled.Reproducibility.Deviation.Value, 1e-6);
        // The printed gauge deviation is the root of rounded squares: 0.302372 from the digits printed.
        Assert.Equal(0.302373, pooled.Gauge.Deviation.Value, 2e-6);
        Assert.Equal(1.042327, pooled.Parts.Deviation.Value, 1e-6);
        Assert.Equal(4, (int)pooled.DistinctCategories);
        Assert.True(pooled.Gauge.Deviation.Interval.Contains(pooled.Gauge.Deviation.Value));
        Assert.Equal(6 * 0.302373 / 4, pooled.ToleranceShare(4), 1e-5);
    }

    [Fact]
    public void Gauge_UnequalNumbers_NamesTheCell()
    {
        (double[] values, Factor parts, Factor operators) = TextbookGauge();
        var less = new Factor("part", parts.Codes[..89].ToArray().Select(c => $"part {c}").ToArray());
        var op = new Factor("operator", operators.Codes[..89].ToArray().Select(c => $"operator {c}").ToArray());
        StatisticsException fault = Assert.Throws<StatisticsException>(() =>
            GaugeStudy.Of(values.AsSpan(0, 89), less, op)
        );
        Assert.Contains("part ", fault.Where, StringComparison.Ordinal);
    }

    [Fact]
    public void Restricted_BalancedStudy_EqualsAnalysisOfVariance()
    {
        // For equal numbers and positive estimates both methods agree (Searle et al. 1992): two independent routes to one number.
        double[] z = Statistics.StatisticsData.Normals(200, 9);
        var values = new List<double>();
        var outer = new List<string>();
        var inner = new List<string>();
        for (int a = 0; a < 6; a++)
        for (int b = 0; b < 4; b++)
        for (int c = 0; c < 3; c++)
        {
            values.Add(10 + z[a] + 0.6 * z[10 + a * 4 + b] + 0.3 * z[40 + values.Count]);
            outer.Add($"block {a}");
            inner.Add($"feature {b}");
        }
        var block = new Factor("block", outer);
        var feature = new Factor("feature", inner);
        NestedAnalysis nested = NestedAnalysis.Of(values.ToArray(), [block, feature], 0.95, out _)!;
        RestrictedLikelihood fit = RestrictedLikelihood.Of(values.ToArray(), [block, Factor.Cross(block, feature)]);
        for (int k = 0; k < 3; k++)
        {
            Assert.True(nested.Components[k].RawVariance > 0);
            ReferenceData.Close(nested.Components[k].Variance, fit.Components[k].Variance, 1e-6);
            Assert.True(fit.Components[k].Deviation.Interval.Contains(fit.Components[k].Deviation.Value));
        }
        ReferenceData.Close(values.Average(), fit.Mean.Value, 1e-10);
    }

    [Fact]
    public void Restricted_CrossedUnequal_EqualsDenseOptimisation()
    {
        var reference = ReferenceData.Of("reml_crossed");
        var part = new Factor("part", reference.Names("part"));
        var op = new Factor("operator", reference.Names("op"));
        RestrictedLikelihood fit = RestrictedLikelihood.Of(reference.Numbers("y"), [part, op, Factor.Cross(part, op)]);
        double[] expected = reference.Numbers("variance");
        for (int k = 0; k < 4; k++)
            ReferenceData.Close(expected[k], fit.Components[k].Variance, 2e-5);
        Assert.Equal(reference.Number("loglik_with_xx"), fit.LogLikelihood, 1e-8);
        ReferenceData.Close(reference.Number("mean"), fit.Mean.Value, 1e-6);
        ReferenceData.Close(reference.Number("mean_se"), fit.Mean.StandardError, 1e-5);
        ReferenceData.Close(reference.Numbers("part_sd")[0], fit.Components[0].Deviation.Interval.Low, 1e-4);
        ReferenceData.Close(reference.Numbers("part_sd")[1], fit.Components[0].Deviation.Interval.High, 1e-4);
    }

    [Fact]
    public void Nested_UnequalNumbers_ExpectedMeanSquaresByHand()
    {
        // One factor: the coefficient of the outer component is (N - sum n² / N) / (g - 1) = (6 - 14/6) / 2.
        double[] values = [1, 2, 4, 5, 7, 9];
        var group = new Factor("block", ["a", "b", "b", "c", "c", "c"]);
        NestedAnalysis found = NestedAnalysis.Of(values, [group], 0.95, out _)!;
        double between = 1 * Math.Pow(1 - 28 / 6.0, 2) + 2 * Math.Pow(3 - 28 / 6.0, 2) + 3 * Math.Pow(7 - 28 / 6.0, 2);
        double within = (2.0 + 8) / 3;
        ReferenceData.Close(between, found.Table[0].SumOfSquares, 1e-12);
        ReferenceData.Close((between / 2 - within) / ((6 - 14 / 6.0) / 2), found.Components[0].Variance, 1e-12);
        Assert.Null(NestedAnalysis.Of([1, 2], [new Factor("block", ["a", "b"])], 0.95, out Refusal? refusal));
        Assert.Equal(RefusalReason.TooFewObservations, refusal!.Reason);
    }

    private static (double[] Values, Factor Parts, Factor Operators) TextbookGauge()
    {
        var values = new List<double>();
        var parts = new List<string>();
        var operators = new List<string>();
        int o = 0;
        foreach (var op in ReferenceData.Of("gauge").GetProperty("values").EnumerateArray())
        {
            foreach (var trial in op.EnumerateArray())
            {
                int p = 0;
                foreach (var value in trial.EnumerateArray())
                {
                    values.Add(value.GetDouble());
                    parts.Add($"part {p++}");
                    operators.Add($"operator {o}");
                }
            }
            o++;
        }
        return (values.ToArray(), new Factor("part", parts), new Factor("operator", operators));
    }
}
