using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>How rule sets are looked for.</summary>
public enum SearchMethod
{
    /// <summary>All combinations.</summary>
    [Choice("grid", "Every combination of all values.")]
    Grid,

    /// <summary>Spread out.</summary>
    [Choice("latin-hypercube", "Spread evenly over the space, each value of each key about equally often.")]
    LatinHypercube,

    /// <summary>Surrogate and expected improvement.</summary>
    [Choice(
        "model",
        "A Gaussian process learns the loss from the rule sets measured so far and proposes the next ones by expected improvement."
    )]
    Model,

    /// <summary>Bad ones die early.</summary>
    [Choice(
        "halving",
        "A Latin hypercube of which all are measured on few cells, the better part on more, the rest on all."
    )]
    Halving,
}
