using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Tune;

/// <summary>Section <c>[choice]</c>.</summary>
public sealed record ChoiceSettings
{
    /// <summary>How many of the best are tried.</summary>
    [ProcedureKey(
        "best",
        "How many of the best rule sets are tried with small changes of every key.",
        Minimum = 1,
        Maximum = 100
    )]
    public int Best { get; init; } = 5;

    /// <summary>Size of a small change.</summary>
    [ProcedureKey(
        "step",
        "Small change of a range without steps, as a part of it; a range with steps changes by one step.",
        Dimension.Fraction,
        Minimum = 1e-3,
        Maximum = 0.5
    )]
    public double StepFraction { get; init; } = 0.05;

    /// <summary>Whether the worst neighbour decides.</summary>
    [ProcedureKey(
        "robust",
        "Whether the rule set is chosen whose worst small change is best (a flat optimum), instead of the one that is best by itself."
    )]
    public bool Robust { get; init; } = true;

    /// <summary>Number of folds.</summary>
    [ProcedureKey(
        "folds",
        "Cross-validation leaves out one stack in turn; with fewer than three stacks, one of so many contiguous parts of every stack.",
        Minimum = 2,
        Maximum = 18
    )]
    public int Folds { get; init; } = 6;
}
