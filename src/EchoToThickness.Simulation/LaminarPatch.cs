namespace EchoToThickness.Simulation;

/// <summary>A reflector parallel to the surface inside the metal, which sends part of the sound back.</summary>
/// <param name="Area">Where it lies.</param>
/// <param name="DepthMetres">Its depth below the surface.</param>
/// <param name="ReflectedFraction">Part of the amplitude it reflects, 0 to 1; the rest goes on to the far wall.</param>
public sealed record LaminarPatch(PlanRectangle Area, double DepthMetres, double ReflectedFraction);
