namespace EchoToThickness.Statistics.Extremes;

/// <summary>Outcome of a statistical test.</summary>
/// <param name="Name">Name and what it asks, in words.</param>
/// <param name="Statistic">Its statistic.</param>
/// <param name="Probability">Probability of so extreme a statistic when the assumption holds; NaN where the test could not be made.</param>
public sealed record TestOutcome(string Name, double Statistic, double Probability);
