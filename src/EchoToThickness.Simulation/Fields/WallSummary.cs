namespace EchoToThickness.Simulation.Fields;

/// <summary>The wall under an aperture.</summary>
/// <param name="MinimumMetres">Smallest wall, metres.</param>
/// <param name="MeanMetres">Mean wall, metres.</param>
public readonly record struct WallSummary(double MinimumMetres, double MeanMetres);
