namespace EchoToThickness.Simulation.Scenes;

/// <summary>
/// A point on the outer surface. Plate: along, across. Pipe: along the axis, arc of the girth from the reference. Elbow: arc of the bend's
/// centre line from the start of the bend, arc of the girth from the extrados (clockwise looking downstream); the girth wraps.
/// </summary>
/// <param name="AlongMetres">Along, metres; on an elbow <c>theta R</c> on the bend's centre line.</param>
/// <param name="AroundMetres">Around, metres; <c>r_o phi</c> on pipes and elbows.</param>
public readonly record struct SurfacePoint(double AlongMetres, double AroundMetres);
