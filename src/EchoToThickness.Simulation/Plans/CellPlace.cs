using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Plans;

/// <summary>Where one cell of the scan lies.</summary>
/// <param name="Point">Centre of the aperture on the outer surface.</param>
/// <param name="ScanMetres">Encoder position as a sound encoder writes it, metres.</param>
/// <param name="IndexMetres">Position along the index axis, metres.</param>
/// <param name="RadiusAroundMetres">Outer radius of curvature around, metres; infinite when flat.</param>
/// <param name="RadiusAlongMetres">Outer radius of curvature along, metres; positive convex, negative concave (intrados), infinite when straight.</param>
/// <param name="OnComponent">Whether the point lies on the component.</param>
public readonly record struct CellPlace(
    SurfacePoint Point,
    double ScanMetres,
    double IndexMetres,
    double RadiusAroundMetres,
    double RadiusAlongMetres,
    bool OnComponent
);
