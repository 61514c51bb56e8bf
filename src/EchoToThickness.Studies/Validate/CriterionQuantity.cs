using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>What a criterion judges. The unfavourable end of the interval decides, never the estimate alone.</summary>
public enum CriterionQuantity
{
    /// <summary>Mean error.</summary>
    [Choice("bias", "Mean error: both one-sided tests against the limit (equivalence).")]
    Bias,

    /// <summary>Tolerance interval.</summary>
    [Choice("tolerance-interval", "The farther end of the tolerance interval of readings.")]
    ToleranceInterval,

    /// <summary>Repeatability.</summary>
    [Choice(
        "repeatability",
        "Standard deviation of readings of one feature in one scan and of repeated scans; upper limit."
    )]
    Repeatability,

    /// <summary>Reproducibility.</summary>
    [Choice("reproducibility", "Standard deviation of readings under all random factors; upper limit.")]
    Reproducibility,

    /// <summary>Missing share.</summary>
    [Choice("missing", "Share of cells without a wall; upper limit.")]
    Missing,

    /// <summary>Gross errors.</summary>
    [Choice("gross", "Share of cells with a gross error; upper limit.")]
    Gross,

    /// <summary>Detection limit.</summary>
    [Choice("a90/95", "Size found nine times in ten, upper limit at the confidence of the claim.")]
    DetectionLimit,

    /// <summary>Sizing error.</summary>
    [Choice("sizing", "Root mean square error of the remaining wall of features that were found; upper limit.")]
    Sizing,

    /// <summary>False calls.</summary>
    [Choice("false-calls", "False calls in a square metre of blank metal; upper limit.")]
    FalseCalls,

    /// <summary>Stated uncertainty.</summary>
    [Choice("coverage", "Share of readings whose stated interval holds the certified wall; lower limit.")]
    Coverage,
}
