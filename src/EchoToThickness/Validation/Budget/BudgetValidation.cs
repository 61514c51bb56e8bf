namespace EchoToThickness.Validation.Budget;

/// <summary>Whether the law of propagation was good enough (JCGM 101, clause 8.1).</summary>
/// <param name="LowDifference">Distance of the lower ends.</param>
/// <param name="HighDifference">Distance of the upper ends.</param>
/// <param name="Tolerance">Numerical tolerance.</param>
/// <param name="IsValidated">Whether both distances are within it; false also where the budget has no interval.</param>
public sealed record BudgetValidation(double LowDifference, double HighDifference, double Tolerance, bool IsValidated);
