using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[claim]</c>: what is claimed of the procedure.</summary>
public sealed record ClaimSettings
{
    /// <summary>Largest error claimed, metres.</summary>
    [ProcedureKey(
        "tolerance",
        "Largest error of a reading that is claimed, either way.",
        Dimension.Length,
        Minimum = 1e-6,
        Maximum = 0.1
    )]
    public double ToleranceMetres { get; init; } = 0.3e-3;

    /// <summary>Share of readings within it.</summary>
    [ProcedureKey(
        "share",
        "Share of readings that the tolerance interval holds.",
        Dimension.Fraction,
        Minimum = 0.5,
        Maximum = 0.9999
    )]
    public double Share { get; init; } = 0.95;

    /// <summary>Confidence of every statement.</summary>
    [ProcedureKey(
        "confidence",
        "Confidence of intervals and statements.",
        Dimension.Fraction,
        Minimum = 0.5,
        Maximum = 0.999
    )]
    public double Confidence { get; init; } = 0.95;

    /// <summary>Thinnest wall claimed, metres.</summary>
    [ProcedureKey(
        "thinnest",
        "Thinnest wall that the procedure is claimed for; left out: the thinnest that was scanned.",
        Dimension.Length,
        Minimum = 1e-4,
        Maximum = 1
    )]
    public double? ThinnestMetres { get; init; }

    /// <summary>Thickest wall claimed, metres.</summary>
    [ProcedureKey(
        "thickest",
        "Thickest wall that the procedure is claimed for; left out: the thickest that was scanned.",
        Dimension.Length,
        Minimum = 1e-4,
        Maximum = 1
    )]
    public double? ThickestMetres { get; init; }

    /// <summary>Standard uncertainty claimed for a reading, metres.</summary>
    [ProcedureKey(
        "standard_uncertainty",
        "Standard uncertainty claimed for a single reading; left out: what each grid states.",
        Dimension.Length,
        Minimum = 1e-7,
        Maximum = 0.1
    )]
    public double? StandardUncertaintyMetres { get; init; }
}
