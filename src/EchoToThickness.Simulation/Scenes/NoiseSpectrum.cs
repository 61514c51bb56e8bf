using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Which frequencies electronic noise has.</summary>
public enum NoiseSpectrum
{
    /// <summary>those the receiver lets through</summary>
    [Choice("receiver band", "those the receiver lets through, noise_band_low to noise_band_high")]
    ReceiverBand,

    /// <summary>all up to half the sample rate</summary>
    [Choice("white", "all up to half the sample rate alike, as from a receiver without a filter")]
    White,
}
