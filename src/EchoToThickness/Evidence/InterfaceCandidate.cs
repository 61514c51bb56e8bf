namespace EchoToThickness.Evidence;

/// <summary>One echo that may be the interface.</summary>
/// <param name="Seconds">Picked instant, seconds from the pulse, before <c>interface.offset</c>.</param>
/// <param name="AmplitudeFraction">Peak amplitude, fraction of full scale.</param>
/// <param name="Score">How well it fits by its own evidence; larger is better, comparable within a stack.</param>
public readonly record struct InterfaceCandidate(float Seconds, float AmplitudeFraction, float Score);
