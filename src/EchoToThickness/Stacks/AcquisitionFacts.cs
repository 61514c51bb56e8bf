namespace EchoToThickness.Stacks;

/// <summary>What is known of how the A-scans were taken. A fact that nobody stated is null, never a guess.</summary>
public sealed record AcquisitionFacts
{
    /// <summary>Nominal centre frequency, hertz.</summary>
    public double? FrequencyHz { get; init; }

    /// <summary>Relative bandwidth at -6 dB (0.6 = 60 %).</summary>
    public double? BandwidthFraction { get; init; }

    /// <summary>Active aperture along the array, metres.</summary>
    public double? ApertureMetres { get; init; }

    /// <summary>Aperture across the array (element length), metres.</summary>
    public double? ElevationMetres { get; init; }

    /// <summary>Element pitch, metres.</summary>
    public double? PitchMetres { get; init; }

    /// <summary>Elements of the array.</summary>
    public int? Elements { get; init; }

    /// <summary>Receiver gain, decibels.</summary>
    public double? GainDecibels { get; init; }

    /// <summary>Radio-frequency or rectified.</summary>
    public SignalForm Form { get; init; } = SignalForm.RadioFrequency;

    /// <summary>Shots averaged into one A-scan.</summary>
    public int? Averages { get; init; }

    /// <summary>Longitudinal velocity in the metal as the acquisition recorded it, metres per second.</summary>
    public double? VelocityMetresPerSecond { get; init; }

    /// <summary>Shear velocity in the metal, metres per second.</summary>
    public double? ShearVelocityMetresPerSecond { get; init; }

    /// <summary>Velocity in the couplant, metres per second.</summary>
    public double? CouplantVelocityMetresPerSecond { get; init; }

    /// <summary>Temperature of the part, degrees Celsius.</summary>
    public double? TemperatureCelsius { get; init; }
}
