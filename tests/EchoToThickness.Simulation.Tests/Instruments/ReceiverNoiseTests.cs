using System.Runtime.InteropServices;
using EchoToThickness.Signals;
using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Instruments;

/// <summary>
/// Electronic noise behind the receiver's filter. Filtered white noise of variance 1 has the autocorrelation <c>sum h[k] h[k + l]</c>
/// and the spectrum <c>|H(f)|²</c> (Oppenheim and Schafer, discrete-time random signals); both are worked out here from the taps, and
/// the taps are held to the stated edges.
/// </summary>
public sealed class ReceiverNoiseTests
{
    private const double RateHz = 100e6;
    private const double Rms = 0.05;
    private const ulong Seed = 5;
    private static readonly ReceiverBand Band = new(1.4e6, 15.4e6);

    [Fact]
    public void Band_LeftOut_FollowsTheArray()
    {
        ReceiverBand ours = ReceiverBand.Of(new Scene(), RateHz)!.Value;
        Assert.Equal(Band.LowHz, ours.LowHz, 1e-3);
        Assert.Equal(Band.HighHz, ours.HighHz, 1e-3);
        Assert.Null(ReceiverBand.Of(With(new() { NoiseSpectrum = NoiseSpectrum.White }), RateHz));
        Assert.Equal(
            new ReceiverBand(2e6, 9e6),
            ReceiverBand.Of(With(new() { NoiseBandLowHz = 2e6, NoiseBandHighHz = 9e6 }), RateHz)
        );
        // 2.2 × 7 MHz does not fit below half of 30 MS/s.
        Assert.Equal(13.5e6, ReceiverBand.Of(new Scene(), 30e6)!.Value.HighHz, 1);
        // 0.2 × 1 MHz needs more than 511 taps at 100 MS/s: no lower edge then.
        Scene low = new() { Array = new ArraySection { FrequencyHz = 1e6 } };
        ours = ReceiverBand.Of(low, RateHz)!.Value;
        Assert.Equal(0, ours.LowHz);
        Assert.Equal(2.2e6, ours.HighHz, 1e-3);
    }

    [Theory]
    [InlineData(1.4e6, 15.4e6)]
    [InlineData(4e6, 9e6)]
    [InlineData(0, 20e6)]
    [InlineData(0.35e6, 47e6)]
    public void Gain_AtTheEdges_IsHalfAndVarianceIsTheStatedOne(double lowHz, double highHz)
    {
        ReceiverNoise noise = new(new ReceiverBand(lowHz, highHz), RateHz, Rms, KernelPath.Scalar);
        Assert.Equal(Rms, Math.Sqrt(noise.Taps.Sum(t => t * t)), 1e-15);
        double middle = noise.GainAt(0.5 * (lowHz + highHz));
        // Ripple of a Hamming filter: 0.002 on either side of the edge; twice that where two slopes meet.
        Assert.Equal(0.5, noise.GainAt(highHz) / middle, 0.01);
        if (lowHz > 0)
        {
            Assert.Equal(0.5, noise.GainAt(lowHz) / middle, 0.01);
            Assert.InRange(noise.GainAt(0) / middle, 0, 0.01);
        }
        Assert.InRange(noise.GainAt(RateHz / 2) / middle, 0, 0.01);
    }

    [Fact]
    public void Density_InTheBand_IsTwiceThatOfWhiteNoise()
    {
        Instrument band = Compile(new InstrumentSection());
        // An ideal band of 14 of 50 MHz: sqrt(50 / 14) = 1.89; its slopes change that by less than a twentieth.
        Assert.Equal(1.89, band.NoiseDensityAt(7e6), 0.09);
        Assert.Equal(1, Compile(new InstrumentSection { NoiseSpectrum = NoiseSpectrum.White }).NoiseDensityAt(7e6));
    }

    [Fact]
    public void Add_ManyRecords_HasTheRmsFromTheFirstSampleToTheLast()
    {
        const int records = 4000;
        const int samples = 200;
        ReceiverNoise noise = new(Band, RateHz, Rms, KernelPaths.Best);
        double[] power = new double[samples];
        double whole = 0;
        for (int r = 0; r < records; r++)
        {
            float[] record = Record(noise, samples, (ulong)r);
            for (int i = 0; i < samples; i++)
                power[i] += record[i] * (double)record[i];
        }
        whole = power.Average() / records;
        double[] rho = Correlation(noise, samples);
        // Variance of the mean square of N correlated Gaussian samples: 2 sigma⁴ / N × sum of rho² over all lags.
        double spread = Math.Sqrt(2.0 / (records * samples) * (1 + 2 * rho.Skip(1).Sum(v => v * v)));
        Assert.Equal(1, whole / (Rms * Rms), 4 * spread);
        // One sample of every record: independent; 200 of them stay within 4.5 standard deviations (chance 1e-3).
        Assert.All(power, p => Assert.Equal(1, p / records / (Rms * Rms), 4.5 * Math.Sqrt(2.0 / records)));
    }

    [Fact]
    public void Add_ManyRecords_HasTheCorrelationOfTheFilterAndNoneBetweenCells()
    {
        const int records = 1500;
        const int samples = 400;
        const int lags = 160;
        ReceiverNoise noise = new(Band, RateHz, Rms, KernelPaths.Best);
        double[] rho = Correlation(noise, samples);
        double[] found = new double[lags];
        double between = 0;
        float[] last = new float[samples];
        for (int r = 0; r < records; r++)
        {
            float[] record = Record(noise, samples, (ulong)r);
            for (int lag = 0; lag < lags; lag++)
            for (int i = 0; i + lag < samples; i++)
                found[lag] += record[i] * (double)record[i + lag] / (Rms * Rms * records * (samples - lag));
            for (int i = 0; i < samples; i++)
                between += record[i] * (double)last[i] / (Rms * Rms * records * samples);
            last = record;
        }
        // Bartlett (1946): the variance of a covariance is at most 2 / N × sum of rho² over all lags.
        double total = 1 + 2 * rho.Skip(1).Sum(v => v * v);
        for (int lag = 0; lag < lags; lag++)
            Assert.Equal(rho[lag], found[lag], 4.5 * Math.Sqrt(2 * total / (records * (samples - lag))));
        Assert.Equal(0, between, 4 * Math.Sqrt(total / (records * samples)));
    }

    [Fact]
    public void Finish_Noise_HasTheSpectrumOfTheFilter()
    {
        const int length = 256;
        const int records = 1500;
        const int pieces = 4;
        Instrument instrument = Compile(new InstrumentSection { NoiseFraction = Rms });
        ReceiverNoise noise = new(Band, RateHz, Rms, KernelPath.Scalar);
        double[] window = [.. Enumerable.Range(0, length).Select(i => 0.5 - 0.5 * Math.Cos(2 * Math.PI * i / length))];
        FourierTransform transform = new(length);
        double[] found = new double[length / 2 + 1];
        for (int r = 0; r < records; r++)
        {
            byte[] stored = new byte[2 * pieces * length];
            instrument.Finish(Cell(r), new float[pieces * length], stored);
            ReadOnlySpan<short> counts = MemoryMarshal.Cast<byte, short>(stored);
            for (int piece = 0; piece < pieces; piece++)
            {
                double[] real = new double[length];
                double[] imaginary = new double[length];
                for (int i = 0; i < length; i++)
                    real[i] = window[i] * counts[piece * length + i] / 32767.0;
                transform.Forward(real, imaginary);
                for (int k = 0; k < found.Length; k++)
                    found[k] += (real[k] * real[k] + imaginary[k] * imaginary[k]) / (records * pieces);
            }
        }
        // Welch (1967): the mean of a periodogram is the transform of correlation times the window's own correlation. Its spread is
        // its mean over the root of the number of pieces; at zero and half the rate, and one bin beside, up to sqrt(2) as large.
        double[] rho = Correlation(noise, length);
        double[] overlap =
        [
            .. Enumerable
                .Range(0, length)
                .Select(l => Enumerable.Range(0, length - l).Sum(i => window[i] * window[i + l])),
        ];
        double rounding = overlap[0] / 12 / (32767.0 * 32767);
        for (int k = 0; k < found.Length; k++)
        {
            double expected = rho[0] * overlap[0];
            for (int l = 1; l < length; l++)
                expected += 2 * rho[l] * overlap[l] * Math.Cos(2 * Math.PI * k * l / length);
            expected = expected * Rms * Rms + rounding;
            double doubled = k < 2 || k > found.Length - 3 ? Math.Sqrt(2) : 1;
            Assert.Equal(1, found[k] / expected, 4.5 * doubled / Math.Sqrt(records * pieces));
        }
    }

    [Fact]
    public void Add_LongRecord_IsOneFilteredSequenceOnEveryPath()
    {
        const int samples = 3333;
        ReceiverNoise[] noises =
        [
            .. Enum.GetValues<KernelPath>().Select(path => new ReceiverNoise(Band, RateHz, Rms, path)),
        ];
        int reach = noises[0].Taps.Count - 1;
        float[] white = new float[samples + reach];
        NormalNoise.Fill(white, 1, Seed, 77);
        float[] expected = new float[samples];
        new RealFir([.. noises[0].Taps], KernelPath.Scalar).Same(white, reach / 2, expected);
        foreach (ReceiverNoise noise in noises)
        {
            Assert.Equal(expected, Record(noise, samples, 77));
            Assert.Equal(expected[..1017], Record(noise, 1017, 77));
        }
    }

    [Fact]
    public void Finish_White_IsTheDeviatesThemselves()
    {
        Instrument instrument = Compile(
            new InstrumentSection { NoiseFraction = Rms, NoiseSpectrum = NoiseSpectrum.White }
        );
        float[] white = new float[1024];
        NormalNoise.Fill(white, (float)Rms, (ulong)new Scene().Header.Seed, Streams.Of(RandomStream.Noise, 0, 3, 1));
        byte[] stored = new byte[2048];
        instrument.Finish(Cell(3), new float[1024], stored);
        for (int i = 0; i < white.Length; i++)
            Assert.Equal((short)MathF.Round(white[i] * 32767f), BitConverter.ToInt16(stored, 2 * i));
    }

    [Fact]
    public void NormalNoise_FromAPlace_GoesOn()
    {
        float[] whole = new float[100];
        NormalNoise.Fill(whole, 1, Seed, 9);
        float[] part = new float[45];
        NormalNoise.Fill(part, 1, Seed, 9, 32);
        Assert.Equal(whole[32..77], part);
        Assert.Throws<ArgumentOutOfRangeException>(() => NormalNoise.Fill(part, 1, Seed, 9, 8));
    }

    [Theory]
    [InlineData(5e6, 5e6)]
    [InlineData(0, 49e6)]
    [InlineData(0.1e6, 20e6)]
    public void Noise_BandThatNoFilterMakes_IsRefused(double lowHz, double highHz) =>
        Assert.Throws<ArgumentException>(() =>
            new ReceiverNoise(new ReceiverBand(lowHz, highHz), RateHz, Rms, KernelPath.Scalar)
        );

    private static Scene With(InstrumentSection section) => new() { Instrument = section };

    private static Instrument Compile(InstrumentSection section) =>
        Instrument.Compile(With(section), new SceneTimeBase(0, RateHz, 1024));

    private static InstrumentCell Cell(int scan) =>
        new()
        {
            Line = 0,
            Scan = scan,
            Beam = 1,
            LineFraction = 0,
            InterfaceSeconds = double.NaN,
        };

    private static float[] Record(ReceiverNoise noise, int samples, ulong stream)
    {
        float[] record = new float[samples];
        noise.Add(record, Seed, stream);
        return record;
    }

    private static double[] Correlation(ReceiverNoise noise, int lags)
    {
        double[] taps = [.. noise.Taps];
        return
        [
            .. Enumerable
                .Range(0, lags)
                .Select(l =>
                    Enumerable.Range(0, Math.Max(0, taps.Length - l)).Sum(k => taps[k] * taps[k + l]) / (Rms * Rms)
                ),
        ];
    }
}
