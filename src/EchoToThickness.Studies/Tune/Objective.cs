namespace EchoToThickness.Studies.Tune;

/// <summary>A figure that is to be small, its quantities read.</summary>
/// <param name="Figure">The figure.</param>
/// <param name="Per">How much of it costs one point, SI.</param>
/// <param name="Limit">What the worst stack must not exceed, SI; null for no limit.</param>
public sealed record Objective(TuneFigure Figure, double Per, double? Limit);
