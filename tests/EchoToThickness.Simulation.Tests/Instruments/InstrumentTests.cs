using System.Runtime.InteropServices;
using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Instruments;

public sealed class InstrumentTests
{
    private const int Samples = 1000;

    [Fact]
    public void Finish_NoiseAlone_HasItsSizeAndAveragingDividesByTheRoot()
    {
        foreach ((int averages, double expected) in ((int, double)[])[(1, 0.05), (16, 0.0125)])
        {
            Instrument instrument = Compile(new InstrumentSection { NoiseFraction = 0.05, Averages = averages });
            Assert.Equal(expected, instrument.NoiseFraction, 1e-12);
            double squares = 0;
            for (int scan = 0; scan < 100; scan++)
                squares += Stored(instrument, scan).Sum(v => v * v);
            // 100,000 samples: the standard deviation scatters by 1 / sqrt(200,000) = 0.22 %.
            Assert.Equal(expected, Math.Sqrt(squares / (100 * Samples)), 0.01 * expected);
        }
    }

    [Fact]
    public void Noise_AgainstTheBackWall_IsThatManyDecibelsBelow()
    {
        InstrumentSection section = new() { SignalToNoiseDecibels = 26 };
        Assert.Equal(0.08 * Math.Pow(10, -1.3), Compile(section, 0.08).NoiseFraction, 1e-12);
        Assert.Throws<ArgumentException>(() => Compile(section));
    }

    [Theory]
    [InlineData(8, SampleType.Int8, 127, -128)]
    [InlineData(12, SampleType.Int16, 2047, -2048)]
    [InlineData(14, SampleType.Int16, 8191, -8192)]
    [InlineData(16, SampleType.Int16, 32767, -32768)]
    public void Store_EveryDepth_RoundsToNearestAndHoldsAtTheRails(int bits, SampleType type, int full, int low)
    {
        Digitiser digitiser = new(bits, false);
        Assert.Equal(type, digitiser.SampleType);
        Assert.Equal(new AmplitudeScale(full, 0, low, full), digitiser.Amplitude);
        // Lengths around the vector's width, values to ties and beyond the rails.
        for (int length = 0; length < 40; length++)
        {
            float[] samples = [.. Enumerable.Range(0, length).Select(i => (i * 7 % 41 - 20) * 0.06f)];
            double[] expected = [.. samples.Select(s => Math.Clamp(Math.Round((double)(s * full)), low, full))];
            byte[] stored = new byte[length * type.SizeBytes()];
            int rails = digitiser.Store(samples, stored);
            for (int i = 0; i < length; i++)
                Assert.Equal(
                    expected[i],
                    type == SampleType.Int8 ? (sbyte)stored[i] : BitConverter.ToInt16(stored, 2 * i)
                );
            Assert.Equal(expected.Count(v => v >= full || v <= low), rails);
        }
    }

    [Fact]
    public void Store_Rectified_IsTheMagnitudeAtMostFullScale()
    {
        Digitiser digitiser = new(8, true);
        Assert.Equal(SignalForm.Rectified, digitiser.Form);
        float[] samples = [0.5f, -0.5f, -2f, 2f, float.NaN, 0, -1f, 0.25f, -0.25f];
        byte[] stored = new byte[9];
        Assert.Equal(2, digitiser.Store(samples, stored));
        Assert.Equal<byte>([64, 64, 127, 127, 0, 0, 127, 32, 32], stored);
        Assert.Throws<ArgumentException>(() => digitiser.Store(new float[3], stored));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Digitiser(7, false));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Digitiser(17, false));
    }

    [Fact]
    public void Store_Noise_LosesTheTwelfthOfASquaredCount()
    {
        // Widrow and Kollár, Quantization Noise, 2008: rounding adds a variance of 1/12 count² to a signal that spans many counts.
        Digitiser digitiser = new(8, false);
        float[] clean = new float[200_000];
        EchoToThickness.Simulation.Random.NormalNoise.Fill(clean, 0.05f, 1, 1);
        float[] samples = [.. clean];
        byte[] stored = new byte[clean.Length];
        digitiser.Store(samples, stored);
        double variance = clean.Select((c, i) => Math.Pow((sbyte)stored[i] - c * 127.0, 2)).Average();
        Assert.Equal(1.0 / 12, variance, 0.01 / 12);
    }

    [Fact]
    public void Gain_StepsByLineAndPlace_MultiplyTheSignal()
    {
        Scene scene = new()
        {
            Instrument = new InstrumentSection
            {
                NoiseFraction = 0,
                GainSteps =
                [
                    new GainStep
                    {
                        FromFraction = 0.5,
                        ToFraction = 0.75,
                        GainDecibels = 6,
                    },
                ],
            },
            Faults =
            [
                new FaultEntry
                {
                    Kind = FaultKind.GainStep,
                    Lines = [2],
                    AtFraction = 0.2,
                    SizeMetres = 5e-3,
                    LevelDecibels = -20,
                },
            ],
        };
        Instrument instrument = Instrument.Compile(scene, new SceneTimeBase(0, 100e6, Samples));
        // 101 positions, 1 mm apart: the fault stands on positions 20 to 24 of line 2 only.
        double[] second = [.. Enumerable.Range(0, 101).Select(s => instrument.GainDecibels(1, s, s / 100.0))];
        for (int s = 0; s < 101; s++)
            Assert.Equal((s is >= 50 and < 75 ? 6 : 0) + (s is >= 20 and < 25 ? -20 : 0), second[s]);
        Assert.Equal(0, instrument.GainDecibels(0, 22, 0.22));
        float[] samples = new float[Samples];
        samples[300] = 0.2f;
        byte[] stored = new byte[2 * Samples];
        InstrumentFacts facts = instrument.Finish(Cell(1, 22) with { LineFraction = 0.22 }, samples, stored);
        Assert.Equal(PlantedFailure.GainStep, facts.Labels);
        Assert.Equal(Math.Round(0.02 * 32767), BitConverter.ToInt16(stored, 600));
    }

    [Fact]
    public void TriggerDelay_HasItsSpreadAndAveragingDividesByTheRoot()
    {
        Instrument instrument = Compile(new InstrumentSection { TriggerJitterSeconds = 4e-9, Averages = 4 });
        double squares = 0;
        for (int scan = 0; scan < 20_000; scan++)
            squares += Math.Pow(instrument.TriggerDelaySeconds(0, scan, 3), 2);
        Assert.Equal(2e-9, Math.Sqrt(squares / 20_000), 4 * 2e-9 / Math.Sqrt(40_000));
        Assert.Equal(0, Compile(new InstrumentSection()).TriggerDelaySeconds(0, 1, 2));
    }

    [Fact]
    public void Spikes_ComeAtTheirRate()
    {
        Instrument instrument = Compile(
            new InstrumentSection
            {
                NoiseFraction = 0,
                SpikeRate = 0.5,
                SpikeAmplitudeFraction = 0.4,
            }
        );
        int with = 0;
        double largest = 0;
        for (int scan = 0; scan < 4000; scan++)
        {
            double[] stored = Stored(instrument, scan, out InstrumentFacts facts);
            bool seen = stored.Any(v => Math.Abs(v) > 0.001);
            with += facts.Labels == PlantedFailure.Spike ? 1 : 0;
            // A spike in the last sample but one may leave nothing; otherwise label and record agree.
            Assert.True(seen == (facts.Labels == PlantedFailure.Spike) || !seen);
            largest = Math.Max(largest, stored.Max(Math.Abs));
        }
        // At least one spike in 1 - exp(-0.5) of the A-scans; binomial spread of 4000.
        double expected = 1 - Math.Exp(-0.5);
        Assert.Equal(expected, with / 4000.0, 4 * Math.Sqrt(expected * (1 - expected) / 4000));
        // Two or more may meet; one alone stays below its largest peak.
        Assert.InRange(largest, 0.3, 0.9);
    }

    [Fact]
    public void PlantedSpike_IsThereAndLabelled()
    {
        Instrument instrument = Compile(new InstrumentSection { NoiseFraction = 0 });
        float[] samples = new float[Samples];
        byte[] stored = new byte[2 * Samples];
        InstrumentFacts facts = instrument.Finish(Cell(0, 4) with { PlantedSpikeFraction = 0.5 }, samples, stored);
        Assert.Equal(PlantedFailure.Spike, facts.Labels);
        Assert.InRange(MemoryMarshal.Cast<byte, short>(stored).ToArray().Max(v => Math.Abs((int)v)), 3000, 16384);
    }

    [Fact]
    public void DeadTime_HoldsZeroAndTheInitialPulseDecays()
    {
        Instrument instrument = Compile(
            new InstrumentSection
            {
                NoiseFraction = 0,
                InitialPulseFraction = 2,
                InitialPulseSeconds = 1e-6,
                DeadTimeSeconds = 0.505e-6,
            }
        );
        double[] stored = Stored(instrument, 0);
        // The receiver opens between samples 50 and 51 (0.505 us at 100 MS/s).
        Assert.All(stored[..51], v => Assert.Equal(0, v));
        Assert.Contains(stored[51..70], v => Math.Abs(v) > 0.3);
        // 20 dB in 1 us: at 2 us the envelope is 2 × 0.01.
        Assert.InRange(stored[193..208].Max(Math.Abs), 0.017, 0.0235);
        Assert.All(stored[800..], v => Assert.Equal(0, v));
    }

    [Fact]
    public void Finish_AnyOrder_GivesTheSameBytesAndAllocatesNothing()
    {
        Instrument instrument = Compile(
            new InstrumentSection
            {
                GrainNoiseFraction = 0.02,
                SpikeRate = 1,
                TriggerJitterSeconds = 1e-9,
            }
        );
        Instrument other = Compile(
            new InstrumentSection
            {
                GrainNoiseFraction = 0.02,
                SpikeRate = 1,
                TriggerJitterSeconds = 1e-9,
            }
        );
        double[][] forward = [.. Enumerable.Range(0, 8).Select(s => Stored(instrument, s))];
        for (int scan = 7; scan >= 0; scan--)
            Assert.Equal(forward[scan], Stored(other, scan));
        Assert.NotEqual(forward[0], forward[1]);
        float[] samples = new float[Samples];
        byte[] bytes = new byte[2 * Samples];
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int scan = 0; scan < 20; scan++)
            instrument.Finish(Cell(0, scan), samples, bytes);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static Instrument Compile(InstrumentSection section, double backWall = double.NaN) =>
        Instrument.Compile(new Scene { Instrument = section }, new SceneTimeBase(0, 100e6, Samples), backWall);

    private static InstrumentCell Cell(int line, int scan) =>
        new()
        {
            Line = line,
            Scan = scan,
            Beam = 1,
            LineFraction = 0,
            AlongMetres = scan * 1e-3,
            InterfaceSeconds = 2e-6,
            CoupledFraction = 1,
        };

    private static double[] Stored(Instrument instrument, int scan) => Stored(instrument, scan, out _);

    private static double[] Stored(Instrument instrument, int scan, out InstrumentFacts facts)
    {
        byte[] stored = new byte[2 * Samples];
        facts = instrument.Finish(Cell(0, scan), new float[Samples], stored);
        return [.. MemoryMarshal.Cast<byte, short>(stored).ToArray().Select(c => c / 32767.0)];
    }
}
