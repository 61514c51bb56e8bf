using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Tune;

/// <summary>Section <c>[judge]</c>.</summary>
public sealed record JudgeSettings
{
    /// <summary>What rule sets are held against.</summary>
    [ProcedureKey("truth", "What rule sets are held against.")]
    public TruthChoice Truth { get; init; } = TruthChoice.Known;

    /// <summary>Gross limit, metres.</summary>
    [ProcedureKey("gross", "An error above this is gross ...", Dimension.Length, Minimum = 1e-6, Maximum = 1)]
    public double GrossMetres { get; init; } = 0.5e-3;

    /// <summary>Gross limit, part of the wall.</summary>
    [ProcedureKey(
        "gross_fraction",
        "... or above this part of the wall, whichever is smaller.",
        Dimension.Fraction,
        Minimum = 1e-4,
        Maximum = 1
    )]
    public double GrossFraction { get; init; } = 0.1;

    /// <summary>Wall under which a cell is flagged, metres.</summary>
    [ProcedureKey(
        "wall_limit",
        "A cell that reads less is flagged, and joined cells that are thinner are a pit; needed by 'pits-missed' and 'flagged-wrongly' unless pit_depth is given.",
        Dimension.Length,
        Minimum = 1e-5,
        Maximum = 1
    )]
    public double? WallLimitMetres { get; init; }

    /// <summary>Depth under the surrounding wall that makes a pit, metres.</summary>
    [ProcedureKey(
        "pit_depth",
        "Likewise: a cell this much thinner than the median true wall around it (15 cells each way) belongs to a pit.",
        Dimension.Length,
        Minimum = 1e-5,
        Maximum = 1
    )]
    public double? PitDepthMetres { get; init; }

    /// <summary>A cell flagged although its wall is this far above the limit is flagged wrongly, metres.</summary>
    [ProcedureKey(
        "flag_margin",
        "A cell is flagged wrongly when even the smallest true wall under the aperture is this far above the limit.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double FlagMarginMetres { get; init; } = 0.2e-3;

    /// <summary>Largest difference of agreeing values, metres.</summary>
    [ProcedureKey(
        "agreement",
        "Without truth: the two spacings of a cell, and two scans of one place, agree within this.",
        Dimension.Length,
        Minimum = 1e-6,
        Maximum = 0.1
    )]
    public double AgreementMetres { get; init; } = 0.1e-3;

    /// <summary>Weight of the worst stack.</summary>
    [ProcedureKey(
        "worst_share",
        "A figure of several stacks is their mean and, with this weight, that of the worst of them.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 1
    )]
    public double WorstShare { get; init; } = 0.5;
}
