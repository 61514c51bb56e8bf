namespace EchoToThickness.Echoes;

/// <summary>One local maximum of the envelope over the candidate level.</summary>
/// <param name="Sample">Sample of the maximum.</param>
/// <param name="PositionSamples">Refined position, samples (parabola through three).</param>
/// <param name="AmplitudeFraction">Envelope at the maximum, fraction of full scale.</param>
public readonly record struct EchoCandidate(int Sample, double PositionSamples, double AmplitudeFraction);
