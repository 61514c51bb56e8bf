using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>One procedure of a search.</summary>
/// <param name="Point">Shape [axis]: its place in the space.</param>
/// <param name="Texts">Shape [axis]: its values as the procedure writes them.</param>
/// <param name="Procedure">The procedure, with the layers that a score needs.</param>
/// <param name="Sha256">Identity of the procedure, its header and layers left out.</param>
/// <param name="Origin">How it came about.</param>
public sealed record RuleSet(
    double[] Point,
    IReadOnlyList<string> Texts,
    Procedure Procedure,
    string Sha256,
    RuleSetOrigin Origin
);
