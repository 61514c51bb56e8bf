namespace EchoToThickness.Evidence;

/// <summary>One candidate echo of a cell.</summary>
/// <param name="Seconds">Time, seconds from the pulse.</param>
/// <param name="AmplitudeFraction">Peak of the envelope, fraction of full scale.</param>
/// <param name="MayBeWall">Whether the echo may be a wall's, given the interface.</param>
public readonly record struct EchoEvidence(double Seconds, float AmplitudeFraction, bool MayBeWall);
