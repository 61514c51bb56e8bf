using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>One <c>[[velocity.calibration]]</c>: a step of known thickness and the round-trip time measured on it.</summary>
public sealed record CalibrationPoint
{
    /// <summary>Certified thickness, metres.</summary>
    [ProcedureKey("thickness", "Certified thickness of the step.", Dimension.Length, Minimum = 0, Required = true)]
    public double ThicknessMetres { get; init; }

    /// <summary>Its standard uncertainty, metres.</summary>
    [ProcedureKey(
        "thickness_uncertainty",
        "Standard uncertainty of the certified thickness.",
        Dimension.Length,
        Minimum = 0
    )]
    public double ThicknessUncertaintyMetres { get; init; } = 5e-6;

    /// <summary>Measured round-trip time, seconds.</summary>
    [ProcedureKey(
        "time",
        "Round-trip time measured between the same two echoes that the procedure pairs.",
        Dimension.Time,
        Minimum = 0,
        Required = true
    )]
    public double TimeSeconds { get; init; }

    /// <summary>Its standard uncertainty, seconds.</summary>
    [ProcedureKey("time_uncertainty", "Standard uncertainty of the measured time.", Dimension.Time, Minimum = 0)]
    public double TimeUncertaintySeconds { get; init; } = 2e-9;
}
