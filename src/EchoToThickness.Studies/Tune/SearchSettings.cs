using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>Section <c>[search]</c>.</summary>
public sealed record SearchSettings
{
    /// <summary>The method.</summary>
    [ProcedureKey("method", "How rule sets are looked for.")]
    public SearchMethod Method { get; init; } = SearchMethod.Model;

    /// <summary>How many.</summary>
    [ProcedureKey(
        "rule_sets",
        "How many rule sets are looked at; a grid has as many as its steps make, and at most this many unless 'rule_sets' says more.",
        Minimum = 4,
        Maximum = 100_000
    )]
    public int RuleSets { get; init; } = 300;

    /// <summary>Part of a model-based search that is drawn beforehand.</summary>
    [ProcedureKey(
        "initial",
        "For 'model': part of the rule sets that is a Latin hypercube, before the model proposes any.",
        Units.Dimension.Fraction,
        Minimum = 0.02,
        Maximum = 1
    )]
    public double InitialFraction { get; init; } = 0.35;

    /// <summary>Proposals at a time.</summary>
    [ProcedureKey("batch", "For 'model': rule sets proposed and measured together.", Minimum = 1, Maximum = 1000)]
    public int Batch { get; init; } = 12;

    /// <summary>Of so many one lives on.</summary>
    [ProcedureKey(
        "keep",
        "For 'halving': of so many rule sets one lives on to the next rung.",
        Minimum = 2,
        Maximum = 20
    )]
    public int Keep { get; init; } = 3;

    /// <summary>Number of rungs.</summary>
    [ProcedureKey(
        "rungs",
        "For 'halving': number of rungs; the last measures all cells, every earlier one 'keep' times fewer.",
        Minimum = 2,
        Maximum = 6
    )]
    public int Rungs { get; init; } = 3;
}
