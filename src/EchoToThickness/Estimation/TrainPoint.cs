namespace EchoToThickness.Estimation;

/// <summary>One echo of a train: its order, its delay from the reference echo, its strength.</summary>
/// <param name="Order">0 for the interface, n for back-wall echo n.</param>
/// <param name="Candidate">Index of the candidate.</param>
/// <param name="Delay">Delay from the reference echo, with alternatives.</param>
/// <param name="AmplitudeFraction">Envelope amplitude, fraction of full scale.</param>
public record struct TrainPoint(int Order, int Candidate, EchoDelay Delay, double AmplitudeFraction);
