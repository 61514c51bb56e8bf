namespace EchoToThickness.Simulation;

/// <summary>A rectangle on the scanned surface, in metres along the two axes; the upper edges do not belong to it.</summary>
/// <param name="ScanStartMetres">Lower edge along the scan axis.</param>
/// <param name="ScanEndMetres">Upper edge along the scan axis.</param>
/// <param name="IndexStartMetres">Lower edge along the index axis.</param>
/// <param name="IndexEndMetres">Upper edge along the index axis.</param>
public readonly record struct PlanRectangle(
    double ScanStartMetres,
    double ScanEndMetres,
    double IndexStartMetres,
    double IndexEndMetres
)
{
    /// <summary>Whether a point belongs to the rectangle.</summary>
    /// <param name="scanMetres">Scan axis.</param>
    /// <param name="indexMetres">Index axis.</param>
    public bool Contains(double scanMetres, double indexMetres) =>
        scanMetres >= ScanStartMetres
        && scanMetres < ScanEndMetres
        && indexMetres >= IndexStartMetres
        && indexMetres < IndexEndMetres;
}
