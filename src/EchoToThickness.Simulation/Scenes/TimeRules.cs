using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Whether the samples can hold the signal: rate against the band, record against the echoes.</summary>
internal static class TimeRules
{
    public static void Check(Scene scene, ComponentShape shape, List<ProcedureFinding> findings)
    {
        InstrumentSection instrument = scene.Instrument;
        if (instrument.Bits is not (8 or 12 or 14 or 16))
            findings.Add(
                new ProcedureFinding(
                    "instrument.bits",
                    $"A digitiser of {instrument.Bits} bits is not made here.",
                    "write 8, 12, 14 or 16."
                )
            );
        double edge = UpperEdgeHz(scene.Array);
        if (scene.Array.Pulse == PulseSource.Gabor && instrument.SampleRateHz <= 2 * edge)
            findings.Add(
                new ProcedureFinding(
                    "instrument.sample_rate",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{instrument.SampleRateHz / 1e6:0.###} MHz does not sample a band that reaches {edge / 1e6:0.##} MHz (-40 dB): the Nyquist limit is twice that."
                    ),
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"write at least \"{Math.Ceiling(2 * edge / 1e6 + 1e-9):0} MHz\", or a lower frequency or bandwidth."
                    )
                )
            );
        Noise(scene, findings);
        if (instrument.ClippedTimeBase)
            return;
        SceneTimeBase time = SceneTimeBase.Of(scene, shape);
        (double earliest, double latest) = SceneTimeBase.InterfaceSeconds(scene);
        double back =
            latest
            + 2
                * shape.NominalWallMetres
                * (1 + scene.Wall.BendThickeningFraction)
                / SceneTimeBase.VelocityMetresPerSecond(scene.Material);
        if (earliest < time.StartSeconds)
            findings.Add(
                new ProcedureFinding(
                    "instrument.start",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The record starts at {time.StartSeconds * 1e6:0.###} us, and the interface echo comes from {earliest * 1e6:0.###} us on."
                    ),
                    "start earlier, or write clipped_time_base = true when that is the point."
                )
            );
        if (back > time.EndSeconds)
            findings.Add(
                new ProcedureFinding(
                    instrument.Samples is null ? "instrument.start" : "instrument.samples",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The record ends at {time.EndSeconds * 1e6:0.###} us, and the first back wall lies at {back * 1e6:0.###} us: outside the time base."
                    ),
                    "record longer, or write clipped_time_base = true when that is the point."
                )
            );
    }

    private static void Noise(Scene scene, List<ProcedureFinding> findings)
    {
        InstrumentSection instrument = scene.Instrument;
        double rate = instrument.SampleRateHz;
        string given = instrument.NoiseBandHighHz is null ? "instrument.noise_band_low" : "instrument.noise_band_high";
        if (ReceiverBand.Of(scene, rate) is not { } band)
        {
            if (instrument.NoiseBandLowHz is not null || instrument.NoiseBandHighHz is not null)
                findings.Add(
                    new ProcedureFinding(
                        given,
                        "The noise is white, and a band is given for it.",
                        "leave the band out, or write noise_spectrum = \"receiver band\"."
                    )
                );
            return;
        }
        if (!(band.LowHz < band.HighHz))
            findings.Add(
                new ProcedureFinding(
                    given,
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The receiver's band ends at {band.HighHz / 1e6:0.###} MHz and starts at {band.LowHz / 1e6:0.###} MHz: nothing passes."
                    ),
                    "make noise_band_low smaller than noise_band_high."
                )
            );
        else if (band.HighHz > ReceiverBand.HighestFraction * rate)
            findings.Add(
                new ProcedureFinding(
                    "instrument.noise_band_high",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{band.HighHz / 1e6:0.###} MHz is too near to half the sample rate of {rate / 1e6:0.###} MHz for an edge there."
                    ),
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"write at most \"{Math.Floor(ReceiverBand.HighestFraction * rate / 1e5) / 10:0.###} MHz\", or noise_spectrum = \"white\"."
                    )
                )
            );
        else if (!(band.TapsAt(rate) <= ReceiverBand.MostTaps))
            findings.Add(
                new ProcedureFinding(
                    instrument.NoiseBandLowHz is null ? "instrument.noise_band_high" : "instrument.noise_band_low",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Edges at {band.LowHz / 1e6:0.###} and {band.HighHz / 1e6:0.###} MHz are too sharp at {rate / 1e6:0.###} MHz: they would need {band.TapsAt(rate):0} taps, and {ReceiverBand.MostTaps} are the most."
                    ),
                    "write a wider band, or noise_band_low = \"0 MHz\"."
                )
            );
    }

    /// <summary>
    /// Frequency at which a Gabor pulse has fallen by 40 dB: its spectrum is a Gaussian that falls by 20 log10(2) dB at half the bandwidth,
    /// and the offset grows with the square root of the decibels.
    /// </summary>
    private static double UpperEdgeHz(ArraySection array) =>
        array.FrequencyHz * (1 + array.BandwidthFraction / 2 * Math.Sqrt(40 / (20 * Math.Log10(2))));
}
