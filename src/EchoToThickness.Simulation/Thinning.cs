namespace EchoToThickness.Simulation;

/// <summary>A smooth loss of wall with a Gaussian profile along both axes.</summary>
/// <param name="ScanMetres">Centre along the scan axis.</param>
/// <param name="IndexMetres">Centre along the index axis.</param>
/// <param name="ScanSigmaMetres">Standard deviation along the scan axis.</param>
/// <param name="IndexSigmaMetres">Standard deviation along the index axis.</param>
/// <param name="DepthMetres">Loss at the centre.</param>
public sealed record Thinning(
    double ScanMetres,
    double IndexMetres,
    double ScanSigmaMetres,
    double IndexSigmaMetres,
    double DepthMetres
)
{
    /// <summary>Metal missing at a point, metres.</summary>
    /// <param name="scanMetres">Scan axis.</param>
    /// <param name="indexMetres">Index axis.</param>
    public double DepthAt(double scanMetres, double indexMetres)
    {
        double scan = (scanMetres - ScanMetres) / ScanSigmaMetres;
        double index = (indexMetres - IndexMetres) / IndexSigmaMetres;
        return DepthMetres * Math.Exp(-0.5 * (scan * scan + index * index));
    }
}
