namespace EchoToThickness.Components;

/// <summary>A place on the outer surface.</summary>
/// <param name="AlongMetres">Along, downstream: on an elbow on the centre line from the start of the bend, negative on the first straight end.</param>
/// <param name="AroundMetres">Around: metres of the outer girth from the extrados, clockwise looking downstream; across a plate from its edge.</param>
public readonly record struct SurfacePlace(double AlongMetres, double AroundMetres);
