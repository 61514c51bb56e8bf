namespace EchoToThickness.Tests.Estimation;

/// <summary>Aperture, pulse and media of a <see cref="AngularSpectrum"/>.</summary>
internal sealed record AngularSpectrumSetup
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
}
