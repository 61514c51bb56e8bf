using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Drawings;

/// <summary>Section <c>[registration]</c>: how a scan is laid on the drawing.</summary>
public sealed record DrawingRegistrationSettings
{
    /// <summary>Found or stated.</summary>
    [ProcedureKey(
        "mode",
        "Whether the scan's place on the drawing is found from the walls it measured, or stated here."
    )]
    public DrawingRegistrationMode Mode { get; init; } = DrawingRegistrationMode.Automatic;

    /// <summary>Shift along, metres.</summary>
    [ProcedureKey(
        "shift_along",
        "Stated: what is added to a position along the scan to give one on the drawing. Automatic: where the search starts.",
        Dimension.Length
    )]
    public double ShiftAlongMetres { get; init; }

    /// <summary>Shift across, metres.</summary>
    [ProcedureKey("shift_across", "The same across the scan.", Dimension.Length)]
    public double ShiftAcrossMetres { get; init; }

    /// <summary>Reach of the search along, metres.</summary>
    [ProcedureKey(
        "search_along",
        "How far from there the search goes along, either way.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1
    )]
    public double SearchAlongMetres { get; init; } = 20e-3;

    /// <summary>Reach of the search across, metres.</summary>
    [ProcedureKey(
        "search_across",
        "How far from there the search goes across, either way.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1
    )]
    public double SearchAcrossMetres { get; init; } = 20e-3;

    /// <summary>Largest turn, radians.</summary>
    [ProcedureKey(
        "search_angle",
        "Largest turn of the scan against the drawing.",
        Dimension.Angle,
        Minimum = 0,
        Maximum = 0.2
    )]
    public double SearchAngleRadians { get; init; } = 0.035;

    /// <summary>Largest stretch along, fraction.</summary>
    [ProcedureKey(
        "search_stretch",
        "Largest stretch of the scan axis against the drawing, such as a wrong encoder constant.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 0.2
    )]
    public double SearchStretchFraction { get; init; } = 0.02;

    /// <summary>Whether the scan may run against the drawing along.</summary>
    [ProcedureKey(
        "may_be_reversed_along",
        "Whether the scan may have run against the drawing's direction along; stated: whether it did."
    )]
    public bool MayBeReversedAlong { get; init; }

    /// <summary>Whether beams may count against the drawing across.</summary>
    [ProcedureKey(
        "may_be_reversed_across",
        "Whether beams may count against the drawing's direction across; stated: whether they do."
    )]
    public bool MayBeReversedAcross { get; init; }
}
