using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[correction]</c>: what is between the picked times and the wall. Each correction is listed in the result with its size.</summary>
public sealed record CorrectionSettings
{
    /// <summary>Constant subtracted from interface-to-wall times, seconds.</summary>
    [ProcedureKey(
        "zero",
        "Constant subtracted from interface-to-wall times (zero offset); wall-to-wall times do not contain it.",
        Dimension.Time
    )]
    public double ZeroSeconds { get; init; }

    /// <summary>Standard uncertainty of the zero, seconds.</summary>
    [ProcedureKey("zero_uncertainty", "Standard uncertainty of the zero offset.", Dimension.Time, Minimum = 0)]
    public double ZeroUncertaintySeconds { get; init; } = 2e-9;

    /// <summary>Thickness of a coating between interface and metal, metres.</summary>
    [ProcedureKey(
        "coating_thickness",
        "Thickness of a coating of known velocity over the metal; only interface-to-wall times contain it.",
        Dimension.Length,
        Minimum = 0
    )]
    public double CoatingThicknessMetres { get; init; }

    /// <summary>Velocity in the coating, metres per second.</summary>
    [ProcedureKey(
        "coating_velocity",
        "Longitudinal velocity in the coating.",
        Dimension.Velocity,
        Minimum = 200,
        Maximum = 10000
    )]
    public double CoatingVelocityMetresPerSecond { get; init; } = 2500;

    /// <summary>Standard uncertainty of the coating's thickness, metres.</summary>
    [ProcedureKey(
        "coating_thickness_uncertainty",
        "Standard uncertainty of the coating's thickness.",
        Dimension.Length,
        Minimum = 0
    )]
    public double CoatingThicknessUncertaintyMetres { get; init; }

    /// <summary>Standard uncertainty of the velocity in the coating, metres per second.</summary>
    [ProcedureKey(
        "coating_velocity_uncertainty",
        "Standard uncertainty of the velocity in the coating.",
        Dimension.Velocity,
        Minimum = 0
    )]
    public double CoatingVelocityUncertaintyMetresPerSecond { get; init; }

    /// <summary>Angle of the beam to the wall's normal inside the metal, radians.</summary>
    [ProcedureKey(
        "beam_angle",
        "Angle of the beam to the wall's normal inside the metal; the path counts with its cosine.",
        Dimension.Angle,
        Minimum = 0,
        Maximum = 70 * (Math.PI / 180)
    )]
    public double BeamAngleRadians { get; init; }

    /// <summary>Whether the spreading of a finite aperture is corrected.</summary>
    [ProcedureKey(
        "diffraction",
        "Correct the phase advance of a finite aperture (needs aperture and frequency of the stack)."
    )]
    public bool Diffraction { get; init; }

    /// <summary>Whether the longer mean path under a flat aperture on a convex pipe is corrected.</summary>
    [ProcedureKey(
        "curvature",
        "Correct the mean path under a flat aperture that lies across a pipe, in girth direction (needs aperture and outside diameter of the stack)."
    )]
    public bool Curvature { get; init; }

    /// <summary>Active aperture along the array for the diffraction correction, metres; null: the stack's own.</summary>
    [ProcedureKey(
        "aperture",
        "Active aperture along the array for the diffraction and curvature corrections; left out: the stack's own.",
        Dimension.Length,
        Minimum = 0.0001
    )]
    public double? ApertureMetres { get; init; }

    /// <summary>Second side of a rectangular aperture, metres; null for a strip that is long across the array.</summary>
    [ProcedureKey(
        "elevation",
        "Second side of the aperture, across the array, for the diffraction correction; left out: long compared with the path.",
        Dimension.Length,
        Minimum = 0.0001
    )]
    public double? ElevationMetres { get; init; }
}
