using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>One <c>[[objective]]</c>: a figure that is to be small.</summary>
public sealed record ObjectiveSettings
{
    /// <summary>The figure.</summary>
    [ProcedureKey("figure", "The figure.", Required = true)]
    public TuneFigure Figure { get; init; }

    /// <summary>How much of it costs one point.</summary>
    [ProcedureKey(
        "per",
        "How much of it costs one point of the loss: \"0.1 %\", \"20 um\", \"0.1\". Left out: the figure's own, see docs/tuning.md."
    )]
    public string? Per { get; init; }

    /// <summary>What must not be exceeded.</summary>
    [ProcedureKey("limit", "A rule set whose worst stack has more is not chosen, as long as another keeps all limits.")]
    public string? Limit { get; init; }
}
