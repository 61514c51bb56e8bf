namespace EchoToThickness.Simulation.Scenes;

/// <summary>Band of the receiver, which limits electronic noise: half the amplitude at both edges.</summary>
/// <param name="LowHz">Lower edge, hertz; 0: none.</param>
/// <param name="HighHz">Upper edge, hertz.</param>
/// <remarks>
/// Left out, the band reaches from 0.2 to 2.2 times the array's centre frequency: our own choice, wide enough for a pulse of 160 %
/// bandwidth; at 7 MHz and 100 MS/s it makes noise 1.9 times as dense in the band as white noise of the same rms, where the full-wave
/// reference stacks have 2.0 to 2.3.
/// </remarks>
public readonly record struct ReceiverBand(double LowHz, double HighHz)
{
    /// <summary>Longest filter, taps.</summary>
    public const int MostTaps = 511;

    /// <summary>Highest upper edge as a fraction of the sample rate: the filter needs room below half of it.</summary>
    public const double HighestFraction = 0.475;

    private const double DefaultLowPerCentre = 0.2;
    private const double DefaultHighPerCentre = 2.2;
    private const double DefaultHighestFraction = 0.45;

    // Widest slope of the filter as a fraction of the sample rate: half of it fits between HighestFraction and 1/2.
    private const double WidestSlopeFraction = 0.05;

    // Width from pass band to stop band of a filter by a Hamming window, times its taps (Oppenheim and Schafer, table of windows).
    private const double HammingSlope = 3.3;

    /// <summary>The band of a scene; null where its noise is white.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    public static ReceiverBand? Of(Scene scene, double sampleRateHz)
    {
        ArgumentNullException.ThrowIfNull(scene);
        if (scene.Instrument.NoiseSpectrum == NoiseSpectrum.White)
            return null;
        double centre = scene.Array.FrequencyHz;
        double high =
            scene.Instrument.NoiseBandHighHz
            ?? Math.Min(DefaultHighPerCentre * centre, DefaultHighestFraction * sampleRateHz);
        double low = scene.Instrument.NoiseBandLowHz ?? DefaultLowPerCentre * centre;
        var band = new ReceiverBand(low, high);
        bool isOurs = scene.Instrument.NoiseBandLowHz is null;
        return isOurs && !(band.TapsAt(sampleRateHz) <= MostTaps) ? band with { LowHz = 0 } : band;
    }

    /// <summary>Taps that the slopes of the band need: from nothing to all over twice the lower edge, or the width of the band if that is less.</summary>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <returns>An odd number; infinite for an empty band.</returns>
    public double TapsAt(double sampleRateHz)
    {
        double slope = Math.Min(
            LowHz > 0 ? Math.Min(2 * LowHz, HighHz - LowHz) : HighHz,
            WidestSlopeFraction * sampleRateHz
        );
        return slope > 0 ? 2 * Math.Ceiling(HammingSlope * sampleRateHz / slope / 2) + 1 : double.PositiveInfinity;
    }
}
