namespace EchoToThickness.Validation;

/// <summary>One figure with what a reviewer needs to judge it.</summary>
/// <param name="Method">How it was made, in words, with the source of the method.</param>
/// <param name="Value">The estimate, in the unit of the data; NaN where not even that can be given.</param>
/// <param name="StandardError">Its standard error; NaN where unknown.</param>
/// <param name="Interval">Its interval; none where refused.</param>
/// <param name="Units">Independent units behind it: clusters, features or means, never cells of one cluster.</param>
/// <param name="Observations">Single readings.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the spread; may be fractional or infinite; NaN where none apply.</param>
/// <param name="Refusal">Why there is no interval; null when there is one.</param>
public sealed record Estimate(
    string Method,
    double Value,
    double StandardError,
    ConfidenceInterval Interval,
    int Units,
    int Observations,
    double DegreesOfFreedom,
    Refusal? Refusal = null
)
{
    internal static Estimate Refused(string method, double value, int units, int observations, Refusal refusal) =>
        new(method, value, double.NaN, ConfidenceInterval.None, units, observations, double.NaN, refusal);
}
