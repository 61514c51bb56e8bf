using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[velocity]</c>: metres for seconds. Precedence: <c>value</c>, then calibration points, then material, then the stack.</summary>
public sealed record VelocitySettings
{
    /// <summary>Longitudinal velocity, metres per second.</summary>
    [ProcedureKey(
        "value",
        "Longitudinal velocity in the metal at the reference temperature.",
        Dimension.Velocity,
        Minimum = 500,
        Maximum = 20000
    )]
    public double? ValueMetresPerSecond { get; init; }

    /// <summary>Its standard uncertainty, metres per second; null: 0.5 % unless calibrated.</summary>
    [ProcedureKey(
        "uncertainty",
        "Standard uncertainty of the velocity; left out: 0.5 % unless calibration points give it.",
        Dimension.Velocity,
        Minimum = 0
    )]
    public double? UncertaintyMetresPerSecond { get; init; }

    /// <summary>Material name from the table.</summary>
    [ProcedureKey("material", "Material whose tabulated velocity is used when no value and no calibration is given.")]
    public string Material { get; init; } = "";

    /// <summary>Temperature that the velocity belongs to, degrees Celsius.</summary>
    [ProcedureKey("reference_temperature", "Temperature that the velocity belongs to.", Dimension.Temperature)]
    public double ReferenceTemperatureCelsius { get; init; } = 20;

    /// <summary>Temperature of the part, degrees Celsius; null: the stack's own, else the reference.</summary>
    [ProcedureKey(
        "part_temperature",
        "Temperature of the part; left out: the stack's own, else the reference temperature.",
        Dimension.Temperature
    )]
    public double? PartTemperatureCelsius { get; init; }

    /// <summary>Change of velocity with temperature, metres per second and kelvin.</summary>
    [ProcedureKey(
        "temperature_coefficient",
        "Change of velocity with temperature; low-carbon steel -0.8 m/s/K from 0 to 50 degC.",
        Dimension.VelocityPerKelvin
    )]
    public double TemperatureCoefficient { get; init; } = -0.8;

    /// <summary>Standard uncertainty of the temperature coefficient, metres per second and kelvin.</summary>
    [ProcedureKey(
        "temperature_coefficient_uncertainty",
        "Standard uncertainty of the temperature coefficient.",
        Dimension.VelocityPerKelvin,
        Minimum = 0
    )]
    public double TemperatureCoefficientUncertainty { get; init; } = 0.07;

    /// <summary>Standard uncertainty of the part temperature, kelvin.</summary>
    [ProcedureKey(
        "temperature_uncertainty",
        "Standard uncertainty of the temperature difference between part and reference.",
        Dimension.TemperatureDifference,
        Minimum = 0
    )]
    public double TemperatureUncertaintyKelvin { get; init; }

    /// <summary>Calibration points on a step block; two or more give velocity and zero.</summary>
    [ProcedureKey(
        "calibration",
        "Calibration points on a step block: two or more give velocity and zero with their covariance."
    )]
    public IReadOnlyList<CalibrationPoint> Calibration { get; init; } = [];
}
