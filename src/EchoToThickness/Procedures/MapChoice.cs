namespace EchoToThickness.Procedures;

/// <summary>How the wall of a cell is chosen among its hypotheses with a look at true neighbours.</summary>
public enum MapChoice
{
    /// <summary>Every cell decides alone.</summary>
    [Choice("off", "Every cell decides alone (train.neighbours is a separate, smaller rule).")]
    Off,

    /// <summary>Smallest sum of path costs from up to eight directions.</summary>
    [Choice("semi-global", "The hypothesis with the smallest sum of path costs from up to eight directions.")]
    SemiGlobal,

    /// <summary>Largest marginal probability after messages between neighbours.</summary>
    [Choice(
        "belief propagation",
        "The hypothesis with the largest marginal probability after probabilities were passed between neighbours."
    )]
    BeliefPropagation,
}
