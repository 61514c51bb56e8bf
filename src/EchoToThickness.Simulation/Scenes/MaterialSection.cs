using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[material]</c>: the metal, and what lies behind it.</summary>
public sealed record MaterialSection
{
    /// <summary>Longitudinal velocity at the reference temperature of 20 degC.</summary>
    [ProcedureKey(
        "velocity",
        "Longitudinal velocity at the reference temperature of 20 degC.",
        Dimension.Velocity,
        Minimum = 100
    )]
    public double VelocityMetresPerSecond { get; init; } = 5920;

    /// <summary>Shear velocity.</summary>
    [ProcedureKey("shear_velocity", "Shear velocity.", Dimension.Velocity, Minimum = 0)]
    public double ShearVelocityMetresPerSecond { get; init; } = 3230;

    /// <summary>Density.</summary>
    [ProcedureKey("density", "Density.", Dimension.Density, Minimum = 1)]
    public double DensityKilogramsPerCubicMetre { get; init; } = 7850;

    /// <summary>Attenuation one way at attenuation_frequency.</summary>
    [ProcedureKey("attenuation", "Attenuation one way at attenuation_frequency.", Dimension.Attenuation, Minimum = 0)]
    public double AttenuationDecibelsPerMetre { get; init; } = 10;

    /// <summary>Frequency at which the attenuation holds.</summary>
    [ProcedureKey(
        "attenuation_frequency",
        "Frequency at which the attenuation holds.",
        Dimension.Frequency,
        Minimum = 1
    )]
    public double AttenuationFrequencyHz { get; init; } = 5e6;

    /// <summary>Power of frequency with which attenuation grows: 2 to 4 for scattering, 1 for hysteresis.</summary>
    [ProcedureKey(
        "attenuation_power",
        "Power of frequency with which attenuation grows: 2 to 4 for scattering, 1 for hysteresis.",
        Minimum = 0,
        Maximum = 4
    )]
    public double AttenuationPower { get; init; } = 2;

    /// <summary>Whether the velocity changes with frequency as causality asks where attenuation does; the velocity given holds at the centre of the pulse.</summary>
    [ProcedureKey(
        "dispersion",
        "Whether the velocity changes with frequency as attenuation asks by causality; the velocity given holds at the centre of the pulse."
    )]
    public bool Dispersion { get; init; }

    /// <summary>Temperature of the component.</summary>
    [ProcedureKey("temperature", "Temperature of the component.", Dimension.Temperature)]
    public double TemperatureCelsius { get; init; } = 20;

    /// <summary>Change of the longitudinal velocity with temperature.</summary>
    [ProcedureKey(
        "velocity_per_kelvin",
        "Change of the longitudinal velocity with temperature.",
        Dimension.VelocityPerKelvin
    )]
    public double VelocityPerKelvin { get; init; } = -0.8;

    /// <summary>What lies behind the wall.</summary>
    [ProcedureKey("inner", "What lies behind the wall.")]
    public InnerMedium Inner { get; init; } = InnerMedium.Gas;
}
