namespace EchoToThickness.Studies.Validate;

/// <summary>Verdicts and quantities in words.</summary>
public static class VerdictWords
{
    /// <summary>A verdict.</summary>
    /// <param name="verdict">The verdict.</param>
    public static string Of(CriterionVerdict verdict) =>
        verdict switch
        {
            CriterionVerdict.Pass => "pass",
            CriterionVerdict.Fail => "fail",
            _ => "not enough data",
        };

    /// <summary>A quantity.</summary>
    /// <param name="quantity">The quantity.</param>
    public static string Of(CriterionQuantity quantity) =>
        quantity switch
        {
            CriterionQuantity.Bias => "bias",
            CriterionQuantity.ToleranceInterval => "tolerance interval",
            CriterionQuantity.Repeatability => "repeatability",
            CriterionQuantity.Reproducibility => "reproducibility",
            CriterionQuantity.Missing => "missing cells",
            CriterionQuantity.Gross => "gross errors",
            CriterionQuantity.DetectionLimit => "a90/95",
            CriterionQuantity.Sizing => "sizing of the remaining wall",
            CriterionQuantity.FalseCalls => "false calls",
            _ => "coverage of the stated interval",
        };
}
