namespace EchoToThickness.Validation.Accuracy;

/// <summary>Outcome of a test of equivalence.</summary>
/// <param name="IsEquivalent">Both one-sided tests reject; false also when the bias was refused.</param>
/// <param name="LowerProbability">p-value of "the bias is at or below the lower tolerance".</param>
/// <param name="UpperProbability">p-value of "the bias is at or above the upper tolerance".</param>
/// <param name="Interval">The interval of confidence 1 - 2 level that lies within the tolerance exactly when both tests reject.</param>
/// <param name="Bias">The bias tested; its refusal is the refusal of the test.</param>
public sealed record EquivalenceResult(
    bool IsEquivalent,
    double LowerProbability,
    double UpperProbability,
    ConfidenceInterval Interval,
    Estimate Bias
)
{
    /// <summary>p-value of the test: the larger of the two.</summary>
    public double Probability => Math.Max(LowerProbability, UpperProbability);
}
