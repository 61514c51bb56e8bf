using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Waves;

/// <summary>Everything the echo model needs to know, in SI; made from a scene by <see cref="From"/> or by hand.</summary>
public sealed record WaveSettings
{
    /// <summary>Pulse, centred on time 0.</summary>
    public required WavePulse Pulse { get; init; }

    /// <summary>Longitudinal velocity in the metal.</summary>
    public double VelocityMetresPerSecond { get; init; } = 5920;

    /// <summary>Shear velocity in the metal.</summary>
    public double ShearVelocityMetresPerSecond { get; init; } = 3230;

    /// <summary>Density of the metal.</summary>
    public double DensityKilogramsPerCubicMetre { get; init; } = 7850;

    /// <summary>Attenuation of the metal one way, at <see cref="AttenuationFrequencyHz"/>.</summary>
    public double AttenuationDecibelsPerMetre { get; init; }

    /// <summary>Frequency at which the attenuation holds.</summary>
    public double AttenuationFrequencyHz { get; init; } = 5e6;

    /// <summary>Power of frequency with which attenuation grows.</summary>
    public double AttenuationPower { get; init; } = 2;

    /// <summary>
    /// Whether the velocity changes with frequency as causality asks of that attenuation; it is then <see cref="VelocityMetresPerSecond"/> at the
    /// pulse's centre.
    /// </summary>
    public bool Dispersion { get; init; }

    /// <summary>Velocity in the couplant.</summary>
    public double CouplantVelocityMetresPerSecond { get; init; } = 1480;

    /// <summary>Density of the couplant.</summary>
    public double CouplantDensityKilogramsPerCubicMetre { get; init; } = 1000;

    /// <summary>Attenuation of the couplant one way at the pulse's centre; grows with the square of frequency.</summary>
    public double CouplantAttenuationDecibelsPerMetre { get; init; }

    /// <summary>Couplant at which the interface echo has <see cref="InterfaceAmplitudeFraction"/>.</summary>
    public double NominalCouplantMetres { get; init; } = 5e-3;

    /// <summary>Wall for which the footprint is laid out.</summary>
    public double NominalWallMetres { get; init; } = 10e-3;

    /// <summary>Reflection coefficient of the array's face for waves that come back.</summary>
    public double FaceReflection { get; init; }

    /// <summary>Peak of the interface echo of bare, flat, smooth metal under <see cref="NominalCouplantMetres"/>, fraction of full scale.</summary>
    public double InterfaceAmplitudeFraction { get; init; } = 0.7;

    /// <summary>Whether the aperture is finite; false: plane waves, whose times are exactly 2 d / c and which see the wall on the axis only.</summary>
    public bool Diffraction { get; init; } = true;

    /// <summary>Side of the aperture along the elements.</summary>
    public double ApertureMetres { get; init; } = 8e-3;

    /// <summary>Other side of the aperture; infinite for a strip (two-dimensional).</summary>
    public double ElevationMetres { get; init; } = 8e-3;

    /// <summary>Elements of the aperture.</summary>
    public int ApertureElements { get; init; } = 8;

    /// <summary>Shape [element of the array]: amplitude of each; empty: all 1 and as many as the aperture has.</summary>
    public IReadOnlyList<double> ElementGains { get; init; } = [];

    /// <summary>Shape [element of the array]: delay of each, sending and again receiving; empty: none.</summary>
    public IReadOnlyList<double> ElementDelaysSeconds { get; init; } = [];

    /// <summary>Depth in the metal on which delays focus the aperture; null: unfocused.</summary>
    public double? FocusDepthMetres { get; init; }

    /// <summary>Whether the array follows a curved surface; a flat one stands off at its ends.</summary>
    public bool IsConformal { get; init; } = true;

    /// <summary>Specific acoustic impedance of the metal, pascal second a metre.</summary>
    public double Impedance => VelocityMetresPerSecond * DensityKilogramsPerCubicMetre;

    /// <summary>Specific acoustic impedance of the couplant.</summary>
    public double CouplantImpedance => CouplantVelocityMetresPerSecond * CouplantDensityKilogramsPerCubicMetre;

    /// <summary>Pressure reflection coefficient of bare metal seen from the couplant.</summary>
    public double InterfaceReflection => (Impedance - CouplantImpedance) / (Impedance + CouplantImpedance);

    /// <summary>Settings of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="folder">Folder from which the pulse file's path counts.</param>
    /// <exception cref="ArgumentException">The pulse file cannot be used; the message says why.</exception>
    public static WaveSettings From(Scene scene, string folder) => SceneWaves.Settings(scene, folder);
}
