namespace EchoToThickness.Simulation.Fields;

/// <summary>Where something lies, in surface coordinates: centre and half extents, infinite for "everywhere".</summary>
internal readonly record struct SurfaceBox(double Along, double Around, double HalfAlong, double HalfAround);
