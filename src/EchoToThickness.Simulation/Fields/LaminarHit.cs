namespace EchoToThickness.Simulation.Fields;

/// <summary>A reflector parallel to the surface inside the metal, at one point.</summary>
/// <param name="DepthMetres">Depth below the outer surface of the metal, metres.</param>
/// <param name="ReflectedFraction">Fraction of the amplitude it reflects, 0 to 1.</param>
public readonly record struct LaminarHit(double DepthMetres, double ReflectedFraction);
