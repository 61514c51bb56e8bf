namespace EchoToThickness.Validation.Accuracy;

/// <summary>What a test for outliers flagged.</summary>
/// <param name="Method">Test, with its source.</param>
/// <param name="Flagged">Places of the flagged values in the sample given, most extreme first.</param>
/// <param name="Statistics">Statistic of every step.</param>
/// <param name="CriticalValues">Its critical value.</param>
/// <param name="Refusal">Why the test was not made; null when it was.</param>
public sealed record OutlierResult(
    string Method,
    IReadOnlyList<int> Flagged,
    IReadOnlyList<double> Statistics,
    IReadOnlyList<double> CriticalValues,
    Refusal? Refusal
);
