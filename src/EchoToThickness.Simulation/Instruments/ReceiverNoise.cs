using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Signals;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// Electronic noise behind a receiver's filter: white noise through a linear-phase band-pass whose coefficients have the stated standard
/// deviation as their root sum of squares. Immutable, allocation-free, the same bits on every machine.
/// </summary>
/// <remarks>
/// Stationary to both ends of the record: the white noise reaches over them by half the filter. Sample i of a stream is a fixed function of
/// (seed, stream, i), whatever the length of the record. Filter: <see cref="FirDesign.BandPass"/> with a Hamming window.
/// </remarks>
public sealed class ReceiverNoise
{
    // A multiple of 16, the block of NormalNoise.
    private const int Chunk = 1024;
    private readonly double[] _taps;
    private readonly double _sampleRateHz;
    private readonly RealFir _filter;

    /// <summary>Prepares the filter.</summary>
    /// <param name="band">The receiver's band.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="rms">Standard deviation of the noise behind the filter.</param>
    /// <param name="path">Implementation; all give the same bits.</param>
    /// <exception cref="ArgumentException">The band is empty, reaches too high or needs too long a filter.</exception>
    public ReceiverNoise(ReceiverBand band, double sampleRateHz, double rms, KernelPath path)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(rms);
        double taps = band.TapsAt(sampleRateHz);
        if (!(taps <= ReceiverBand.MostTaps) || !(band.HighHz <= ReceiverBand.HighestFraction * sampleRateHz))
            throw new ArgumentException(
                $"No filter of up to {ReceiverBand.MostTaps} taps lets {band.LowHz} to {band.HighHz} Hz through at {sampleRateHz} samples a second.",
                nameof(band)
            );
        double[] window = FirWindow.Hamming((int)taps);
        _taps =
            band.LowHz > 0
                ? FirDesign.BandPass(band.LowHz, band.HighHz, sampleRateHz, window)
                : FirDesign.LowPass(band.HighHz, sampleRateHz, window);
        double energy = 0;
        foreach (double tap in _taps)
            energy += tap * tap;
        for (int k = 0; k < _taps.Length; k++)
            _taps[k] *= rms / Math.Sqrt(energy);
        _sampleRateHz = sampleRateHz;
        _filter = new RealFir(_taps, path);
    }

    /// <summary>Shape [tap]: the filter; its sum of squares is the variance of the noise.</summary>
    public IReadOnlyList<double> Taps => _taps;

    /// <summary>Gain of the filter, against white noise of standard deviation 1.</summary>
    /// <param name="frequencyHz">Frequency, hertz.</param>
    /// <returns>At least 0.</returns>
    public double GainAt(double frequencyHz)
    {
        double gain = 0;
        for (int k = 0; k < _taps.Length; k++)
            gain += _taps[k] * Math.Cos(2 * Math.PI * frequencyHz / _sampleRateHz * (k - _taps.Length / 2));
        return Math.Abs(gain);
    }

    /// <summary>Adds noise to samples.</summary>
    /// <param name="samples">Shape [sample]; changed in place.</param>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    public void Add(Span<float> samples, ulong seed, ulong stream)
    {
        int reach = 2 * _filter.HalfLength;
        Span<float> white = stackalloc float[Chunk + ReceiverBand.MostTaps - 1];
        Span<float> noise = stackalloc float[Chunk];
        for (int from = 0; from < samples.Length; from += Chunk)
        {
            int count = Math.Min(Chunk, samples.Length - from);
            Span<float> part = white[..(count + reach)];
            NormalNoise.Fill(part, 1, seed, stream, from);
            _filter.Same(part, _filter.HalfLength, noise[..count]);
            Sum(samples.Slice(from, count), noise);
        }
    }

    private static void Sum(Span<float> samples, ReadOnlySpan<float> noise)
    {
        ref float to = ref MemoryMarshal.GetReference(samples);
        ref float from = ref MemoryMarshal.GetReference(noise);
        int i = 0;
        for (; i + Vector256<float>.Count <= samples.Length; i += Vector256<float>.Count)
            (Vector256.LoadUnsafe(ref to, (nuint)i) + Vector256.LoadUnsafe(ref from, (nuint)i)).StoreUnsafe(
                ref to,
                (nuint)i
            );
        for (; i < samples.Length; i++)
            samples[i] += noise[i];
    }
}
