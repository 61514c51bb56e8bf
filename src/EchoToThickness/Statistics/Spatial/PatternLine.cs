namespace EchoToThickness.Statistics.Spatial;

/// <summary>Periodogram of a map along one axis, of the mean profile.</summary>
/// <param name="WavelengthMetres">Shape [frequency]: longest first.</param>
/// <param name="Power">Shape [frequency]: share of the variance, adding up to 1.</param>
/// <param name="PeakWavelengthMetres">Wavelength of the largest share.</param>
/// <param name="PeakProbability">Probability of so large a share in white noise (Fisher's test); small means a regular pattern or a smooth map.</param>
/// <param name="FilledFraction">Places without a measured cell, which took the mean.</param>
public sealed record PatternLine(
    IReadOnlyList<double> WavelengthMetres,
    IReadOnlyList<double> Power,
    double PeakWavelengthMetres,
    double PeakProbability,
    double FilledFraction
);
