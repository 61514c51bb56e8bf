namespace EchoToThickness.Evidence;

/// <summary>One wall that an A-scan may show, and how likely its own evidence makes it.</summary>
/// <param name="ThicknessMetres">Wall, metres.</param>
/// <param name="LogLikelihood">Log likelihood ratio against "no wall in this A-scan", nats; a prior on the wall is included.</param>
/// <param name="SpacingSamples">Round trip of the wall, samples.</param>
/// <param name="Front">Candidate taken for the interface.</param>
/// <param name="FirstOrder">Order of the first back-wall echo that is seen: 1, or more when earlier ones are hidden or suppressed.</param>
/// <param name="Echoes">Back-wall echoes seen.</param>
/// <param name="Members">Their candidates, one bit each.</param>
public readonly record struct WallHypothesis(
    float ThicknessMetres,
    float LogLikelihood,
    float SpacingSamples,
    byte Front,
    byte FirstOrder,
    byte Echoes,
    uint Members
);
