namespace EchoToThickness.Simulation;

/// <summary>Length of the couplant path between array and surface: a mean, a slow drift along the scan and a tilt along the array.</summary>
/// <param name="MeanMetres">Mean path.</param>
/// <param name="DriftMetres">Amplitude of a sine along the scan axis.</param>
/// <param name="DriftPeriodMetres">Its period.</param>
/// <param name="TiltPerMetre">Change of the path per metre of index axis.</param>
/// <param name="JitterMetres">Standard deviation of an independent change from one scan position to the next.</param>
public sealed record CouplantPath(
    double MeanMetres,
    double DriftMetres = 0,
    double DriftPeriodMetres = 1,
    double TiltPerMetre = 0,
    double JitterMetres = 0
)
{
    /// <summary>Path at a point, metres.</summary>
    /// <param name="scanMetres">Scan axis.</param>
    /// <param name="indexMetres">Index axis.</param>
    /// <param name="normalDeviate">Standard normal deviate of the scan position, for the jitter.</param>
    public double At(double scanMetres, double indexMetres, double normalDeviate = 0) =>
        MeanMetres
        + DriftMetres * Math.Sin(2 * Math.PI * scanMetres / DriftPeriodMetres)
        + TiltPerMetre * indexMetres
        + JitterMetres * normalDeviate;
}
