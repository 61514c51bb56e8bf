using EchoToThickness.Validation;

namespace EchoToThickness.Studies.Validate;

/// <summary>A criterion with what was found.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Figure">What was found.</param>
/// <param name="Unit">In what it is shown.</param>
/// <param name="Limit">The limit, SI.</param>
/// <param name="Decisive">The end of the interval that decides; NaN when there is none.</param>
/// <param name="Verdict">What became of it.</param>
/// <param name="Why">In words.</param>
public sealed record CriterionResult(
    CriterionSettings Criterion,
    Estimate Figure,
    StatementUnit Unit,
    double Limit,
    double Decisive,
    CriterionVerdict Verdict,
    string Why
);
