namespace EchoToThickness.Statistics.Describe;

/// <summary>An area-weighted quantile.</summary>
/// <param name="Probability">Share of the measured area with a smaller wall.</param>
/// <param name="ThicknessMetres">Wall.</param>
public readonly record struct MapQuantile(double Probability, double ThicknessMetres);
