namespace EchoToThickness.Simulation.Instruments;

/// <summary>A round bubble on the unrolled surface.</summary>
internal readonly record struct Disc(double AlongMetres, double AroundMetres, double RadiusMetres);
