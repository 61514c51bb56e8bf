using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>What a Gaussian random field of unit variance looks like; lengths in metres.</summary>
public sealed record RandomFieldSettings
{
    /// <summary>Extent along that must not repeat.</summary>
    public required double LengthMetres { get; init; }

    /// <summary>Extent around; the field closes on itself there when <see cref="IsClosedAround"/>.</summary>
    public required double WidthMetres { get; init; }

    /// <summary>Whether the width is the girth, so that the field is periodic over it.</summary>
    public bool IsClosedAround { get; init; }

    /// <summary>Correlation length along: where the correlation has fallen to 1/e (Gaussian, exponential); roll-off of the power law.</summary>
    public required double CorrelationAlongMetres { get; init; }

    /// <summary>Correlation length around.</summary>
    public required double CorrelationAroundMetres { get; init; }

    /// <summary>Form of the spectrum.</summary>
    public RoughnessSpectrum Spectrum { get; init; } = RoughnessSpectrum.Gaussian;

    /// <summary>Power law: Hurst exponent, 0 to 1.</summary>
    public double HurstExponent { get; init; } = 0.8;

    /// <summary>Shortest wavelength; null: a fifth of the correlation length (Gaussian: where the spectrum has fallen to a millionth).</summary>
    public double? ShortestWavelengthMetres { get; init; }
}
