using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.Studies.Compare;

/// <summary>A figure with its interval.</summary>
/// <param name="Value">The figure, metres or fractions; NaN where it cannot be formed.</param>
/// <param name="Interval">Confidence interval at the level of the study.</param>
public readonly record struct FigureValue(double Value, Interval Interval);
