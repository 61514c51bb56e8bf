using System.Globalization;
using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;

namespace EchoToThickness.Studies.Validate;

/// <summary>Judges the criteria of a study.</summary>
internal static class CriteriaPart
{
    public static IReadOnlyList<CriterionResult> Judge(
        ValidateStudy study,
        AccuracyPart accuracy,
        VariancePart variance,
        CoveragePart coverage,
        DetectionPart detection,
        UncertaintyPart uncertainty
    )
    {
        Estimate nothing = new(
            "no reading",
            double.NaN,
            double.NaN,
            ConfidenceInterval.None,
            0,
            0,
            double.NaN,
            new Refusal(RefusalReason.TooFewObservations, 0, 1, "No cell with a certified wall was measured.")
        );
        return
        [
            .. study.Criteria.Select(c =>
                c.Quantity switch
                {
                    CriterionQuantity.Bias => Bias(study, c, accuracy.Whole?.Bias ?? nothing),
                    CriterionQuantity.ToleranceInterval => Largest(
                        c,
                        accuracy.Whole?.Tolerance ?? nothing,
                        StatementUnit.Millimetres,
                        c.AtMostMetres!.Value,
                        both: true
                    ),
                    CriterionQuantity.Repeatability => Length(c, variance.Repeatability),
                    CriterionQuantity.Reproducibility => Length(c, variance.Reproducibility),
                    CriterionQuantity.Missing => Share(c, coverage.Missing),
                    CriterionQuantity.Gross => Share(c, coverage.Gross),
                    CriterionQuantity.DetectionLimit => Length(c, detection.Limit),
                    CriterionQuantity.Sizing => Length(c, detection.Sizing),
                    CriterionQuantity.FalseCalls => Largest(
                        c,
                        detection.FalseCallRate,
                        StatementUnit.PerSquareMetre,
                        c.AtMostPerSquareMetre!.Value
                    ),
                    _ => Smallest(c, uncertainty.Coverage),
                }
            ),
        ];
    }

    private static CriterionResult Bias(ValidateStudy study, CriterionSettings criterion, Estimate bias)
    {
        double limit = criterion.AtMostMetres!.Value;
        if (bias.Refusal is not null)
            return Refused(criterion, bias, StatementUnit.Millimetres, limit);
        EquivalenceResult test = EquivalenceTest.Of(bias, -limit, limit, 1 - study.Claim.Confidence);
        double decisive =
            Math.Abs(test.Interval.Low) > Math.Abs(test.Interval.High) ? test.Interval.Low : test.Interval.High;
        return new CriterionResult(
            criterion,
            bias with
            {
                Interval = test.Interval,
            },
            StatementUnit.Millimetres,
            limit,
            decisive,
            test.IsEquivalent ? CriterionVerdict.Pass : CriterionVerdict.Fail,
            $"two one-sided tests, p = {Words.Probability(test.Probability)}"
        );
    }

    private static CriterionResult Length(CriterionSettings criterion, Estimate figure) =>
        Largest(criterion, figure, StatementUnit.Millimetres, criterion.AtMostMetres!.Value);

    private static CriterionResult Share(CriterionSettings criterion, Estimate figure) =>
        Largest(criterion, figure, StatementUnit.Percent, criterion.AtMostFraction!.Value);

    private static CriterionResult Largest(
        CriterionSettings criterion,
        Estimate figure,
        StatementUnit unit,
        double limit,
        bool both = false
    )
    {
        if (figure.Refusal is not null || !figure.Interval.IsKnown)
            return Refused(criterion, figure, unit, limit);
        double decisive =
            both && Math.Abs(figure.Interval.Low) > Math.Abs(figure.Interval.High)
                ? figure.Interval.Low
                : figure.Interval.High;
        bool passed = Math.Abs(decisive) <= limit;
        return new CriterionResult(
            criterion,
            figure,
            unit,
            limit,
            decisive,
            passed ? CriterionVerdict.Pass : CriterionVerdict.Fail,
            Reason(figure.Value, decisive, limit, passed, both)
        );
    }

    private static CriterionResult Smallest(CriterionSettings criterion, Estimate figure)
    {
        double limit = criterion.AtLeastFraction!.Value;
        if (figure.Refusal is not null || !figure.Interval.IsKnown)
            return Refused(criterion, figure, StatementUnit.Percent, limit);
        bool passed = figure.Interval.Low >= limit;
        return new CriterionResult(
            criterion,
            figure,
            StatementUnit.Percent,
            limit,
            figure.Interval.Low,
            passed ? CriterionVerdict.Pass : CriterionVerdict.Fail,
            passed ? "the lower end of the interval meets the limit"
                : figure.Value >= limit
                    ? "the estimate meets the limit, the lower end of its interval does not: more data may show it"
                : "the estimate itself misses the limit"
        );
    }

    private static string Reason(double value, double decisive, double limit, bool passed, bool both)
    {
        string end = both || decisive < 0 ? "farther" : "upper";
        return passed ? $"the {end} end of the interval meets the limit"
            : Math.Abs(value) <= limit
                ? $"the estimate meets the limit, the {end} end of its interval does not: more data may show it"
            : "the estimate itself misses the limit";
    }

    private static CriterionResult Refused(
        CriterionSettings criterion,
        Estimate figure,
        StatementUnit unit,
        double limit
    ) =>
        new(
            criterion,
            figure,
            unit,
            limit,
            double.NaN,
            CriterionVerdict.NotEnoughData,
            figure.Refusal?.Message
                ?? string.Create(CultureInfo.InvariantCulture, $"no interval can be given for {figure.Method}")
        );
}
