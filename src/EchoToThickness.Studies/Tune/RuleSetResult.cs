namespace EchoToThickness.Studies.Tune;

/// <summary>A rule set with its figures.</summary>
public sealed record RuleSetResult
{
    /// <summary>The rule set.</summary>
    public required RuleSet RuleSet { get; init; }

    /// <summary>Shape [stack]: its scores.</summary>
    public required IReadOnlyList<WindowScore> Scores { get; init; }

    /// <summary>Shape [objective]: mean over the stacks.</summary>
    public required double[] Mean { get; init; }

    /// <summary>Shape [objective]: that of the worst stack.</summary>
    public required double[] Worst { get; init; }

    /// <summary>Shape [objective]: mean and worst by the study's weight; what the loss, the Pareto front and the sensitivity are made of.</summary>
    public required double[] Value { get; init; }

    /// <summary>Sum over the objectives of the value over what costs one point.</summary>
    public required double Loss { get; init; }

    /// <summary>Whether the worst stack keeps every limit of the study.</summary>
    public required bool KeepsLimits { get; init; }

    /// <summary>Pareto rank among the rule sets measured on all cells; 0 is the front.</summary>
    public int ParetoRank { get; init; }
}
