namespace EchoToThickness.Validation.Effects;

/// <summary>A level of a factor against the mean of all its levels, other terms held equal.</summary>
/// <param name="Factor">Factor.</param>
/// <param name="Level">Level.</param>
/// <param name="Effect">Difference from the mean of all levels, with interval.</param>
public sealed record LevelMean(string Factor, string Level, Estimate Effect);
