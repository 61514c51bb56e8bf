namespace EchoToThickness.Validation.Budget;

/// <summary>A line of a budget.</summary>
/// <param name="Input">Input.</param>
/// <param name="Sensitivity">Sensitivity coefficient: change of the result with the input.</param>
/// <param name="Contribution">Sensitivity times standard uncertainty, with sign.</param>
/// <param name="Share">Share of the variance that this input adds by itself, 0 to 1; shares miss 1 by the correlations.</param>
public sealed record BudgetLine(UncertaintyInput Input, double Sensitivity, double Contribution, double Share);
