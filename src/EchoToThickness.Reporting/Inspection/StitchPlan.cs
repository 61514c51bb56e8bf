using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[stitch]</c>.</summary>
public sealed record StitchPlan
{
    /// <summary>Rule.</summary>
    [ProcedureKey("rule", "Which wall a place takes where lines overlap.")]
    public PlanStitchRule Rule { get; init; } = PlanStitchRule.Smallest;

    /// <summary>Pitch along.</summary>
    [ProcedureKey(
        "pitch_along",
        "Pitch of the map along the centre line; 0: that of the scan.",
        Dimension.Length,
        Minimum = 0
    )]
    public double PitchAlongMetres { get; init; }

    /// <summary>Pitch around.</summary>
    [ProcedureKey("pitch_around", "Pitch of the map around; 0: that of the beams.", Dimension.Length, Minimum = 0)]
    public double PitchAroundMetres { get; init; }

    /// <summary>Largest shift.</summary>
    [ProcedureKey(
        "largest_shift",
        "Largest fault of positions looked for; 0: none.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double LargestShiftMetres { get; init; } = 0.015;

    /// <summary>Correct.</summary>
    [ProcedureKey("correct", "Whether faults of positions that were found are put right, each with a line in the log.")]
    public bool Correct { get; init; }
}
