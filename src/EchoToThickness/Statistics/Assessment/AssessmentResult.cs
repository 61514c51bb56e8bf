namespace EchoToThickness.Statistics.Assessment;

/// <summary>A figure with what it rests on, or a refusal.</summary>
/// <typeparam name="T">Type of the figures.</typeparam>
/// <param name="Value">Figures; null when refused.</param>
/// <param name="Basis">What they rest on.</param>
/// <param name="Refusal">Why the method was not applied; empty otherwise.</param>
public sealed record AssessmentResult<T>(T? Value, AssessmentBasis Basis, string Refusal)
    where T : class
{
    /// <summary>Whether the method was refused.</summary>
    public bool IsRefused => Value is null;

    internal static AssessmentResult<T> Of(T value, AssessmentBasis basis) => new(value, basis, "");

    internal static AssessmentResult<T> Refuse(AssessmentBasis basis, string reason) => new(null, basis, reason);
}
