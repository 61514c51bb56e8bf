namespace EchoToThickness.Evidence;

/// <summary>One wall that an A-scan may show, and how likely its own evidence makes it.</summary>
/// <param name="ThicknessMetres">Wall, metres.</param>
/// <param name="LogLikelihood">Log likelihood ratio against "no wall in this A-scan", nats; a prior on the wall is included.</param>
/// <param name="SpacingSamples">Round trip of the wall, samples.</param>
/// <param name="Front">Candidate taken for the interface.</param>
/// <param name="FirstOrder">Order of the first back-wall echo that is seen: 1, or more when earlier ones are hidden or suppressed.</param>
/// <param name="Echoes">Back-wall echoes seen.</param>
/// <param name="Members">Their candidates, one bit each; the interface is none of them.</param>
/// <param name="AtCouplantEcho">Whether the first of them lies where the couplant layer echoes.</param>
/// <param name="ClutterDecibels">Strongest echo that may be a wall's and is not among them over the strongest of them, decibels; <see cref="NoClutterDecibels"/> for none.</param>
public readonly record struct WallHypothesis(
    float ThicknessMetres,
    float LogLikelihood,
    float SpacingSamples,
    byte Front,
    byte FirstOrder,
    byte Echoes,
    uint Members,
    bool AtCouplantEcho = false,
    float ClutterDecibels = WallHypothesis.NoClutterDecibels
)
{
    /// <summary>Value of <see cref="ClutterDecibels"/> where every echo is the wall's.</summary>
    public const float NoClutterDecibels = -60;
}
