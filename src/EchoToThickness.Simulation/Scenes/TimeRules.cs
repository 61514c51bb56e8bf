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

    /// <summary>
    /// Frequency at which a Gabor pulse has fallen by 40 dB: its spectrum is a Gaussian that falls by 20 log10(2) dB at half the bandwidth,
    /// and the offset grows with the square root of the decibels.
    /// </summary>
    private static double UpperEdgeHz(ArraySection array) =>
        array.FrequencyHz * (1 + array.BandwidthFraction / 2 * Math.Sqrt(40 / (20 * Math.Log10(2))));
}
