namespace EchoToThickness.Picks;

/// <summary>One echo of a window, in samples of the record.</summary>
/// <param name="First">First sample over the level.</param>
/// <param name="Last">Last sample over the level.</param>
/// <param name="Peak">Highest sample over the level, the earliest of equals.</param>
/// <param name="AmplitudeFraction">Amplitude of the highest sample, fraction of full scale.</param>
public readonly record struct EchoRun(int First, int Last, int Peak, float AmplitudeFraction);
