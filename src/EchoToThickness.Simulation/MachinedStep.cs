namespace EchoToThickness.Simulation;

/// <summary>A machined step: inside the area the wall is one exact value, as on a reference block.</summary>
/// <param name="Area">Where it lies.</param>
/// <param name="ThicknessMetres">Wall there, metres.</param>
public sealed record MachinedStep(PlanRectangle Area, double ThicknessMetres);
