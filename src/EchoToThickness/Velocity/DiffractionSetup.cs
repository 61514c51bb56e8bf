namespace EchoToThickness.Velocity;

/// <summary>Aperture, pulse and media of a <see cref="DiffractionCorrection"/>.</summary>
public sealed record DiffractionSetup
{
    /// <summary>Active aperture along the array, metres.</summary>
    public required double ApertureMetres { get; init; }

    /// <summary>Other side of a rectangular aperture, metres; null for a strip, long across the array.</summary>
    public double? ElevationMetres { get; init; }

    /// <summary>Centre frequency of the pulse, hertz.</summary>
    public required double FrequencyHz { get; init; }

    /// <summary>Relative bandwidth at -6 dB; 0.6 = 60 %.</summary>
    public double BandwidthFraction { get; init; } = 0.6;

    /// <summary>Longitudinal velocity in the metal, metres per second.</summary>
    public required double VelocityMetresPerSecond { get; init; }

    /// <summary>Velocity in the couplant, metres per second.</summary>
    public required double CouplantMetresPerSecond { get; init; }

    internal void Check()
    {
        Positive(ApertureMetres, nameof(ApertureMetres));
        Positive(ElevationMetres ?? 1, nameof(ElevationMetres));
        Positive(FrequencyHz, nameof(FrequencyHz));
        Positive(VelocityMetresPerSecond, nameof(VelocityMetresPerSecond));
        Positive(CouplantMetresPerSecond, nameof(CouplantMetresPerSecond));
        if (BandwidthFraction is not (> 0 and < 2))
            throw new ArgumentOutOfRangeException(
                nameof(BandwidthFraction),
                BandwidthFraction,
                "It must be above 0 and below 2."
            );
    }

    private static void Positive(double value, string name)
    {
        if (!(value > 0) || !double.IsFinite(value))
            throw new ArgumentOutOfRangeException(name, value, "It must be positive and finite.");
    }
}
