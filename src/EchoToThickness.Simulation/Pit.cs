namespace EchoToThickness.Simulation;

/// <summary>A pit in the far wall: a spherical cap, deepest at its centre.</summary>
/// <param name="ScanMetres">Centre along the scan axis.</param>
/// <param name="IndexMetres">Centre along the index axis.</param>
/// <param name="RadiusMetres">Radius of its mouth.</param>
/// <param name="DepthMetres">Depth at the centre; at most the radius.</param>
public sealed record Pit(double ScanMetres, double IndexMetres, double RadiusMetres, double DepthMetres)
{
    /// <summary>Depth of metal missing at a point, metres; 0 outside the mouth.</summary>
    /// <param name="scanMetres">Scan axis.</param>
    /// <param name="indexMetres">Index axis.</param>
    public double DepthAt(double scanMetres, double indexMetres)
    {
        double scan = scanMetres - ScanMetres;
        double index = indexMetres - IndexMetres;
        double squared = scan * scan + index * index;
        if (squared >= RadiusMetres * RadiusMetres)
            return 0;
        // A cap of mouth radius a and depth h belongs to a sphere of radius (a² + h²) / 2h.
        double sphere = (RadiusMetres * RadiusMetres + DepthMetres * DepthMetres) / (2 * DepthMetres);
        return Math.Sqrt(sphere * sphere - squared) - (sphere - DepthMetres);
    }
}
