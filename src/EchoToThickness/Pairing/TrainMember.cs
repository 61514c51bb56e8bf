namespace EchoToThickness.Pairing;

/// <summary>One back-wall echo of a train.</summary>
/// <param name="Order">n of back-wall echo n.</param>
/// <param name="Candidate">Index of the candidate.</param>
public readonly record struct TrainMember(int Order, int Candidate);
