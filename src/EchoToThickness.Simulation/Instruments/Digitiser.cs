using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// Turns fractions of full scale into stored counts: rounds to the nearest count (ties to even), holds at the rails, rectifies if asked.
/// </summary>
/// <remarks>
/// A digitiser of B bits has the rails <c>-2^(B-1)</c> and <c>2^(B-1) - 1</c>, the latter being full scale. 8 bits are stored as 8-bit
/// integers, more as 16-bit integers that keep the digitiser's counts (they are not shifted up). Rectified: the magnitude of the count,
/// at most full scale.
/// </remarks>
public sealed class Digitiser
{
    private readonly float _fullScale;
    private readonly float _lowerRail;
    private readonly bool _rectified;

    /// <summary>Makes a digitiser.</summary>
    /// <param name="bits">8 to 16, the sign among them.</param>
    /// <param name="rectified">Whether magnitudes are stored.</param>
    public Digitiser(int bits, bool rectified)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bits, 8);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bits, 16);
        int half = 1 << (bits - 1);
        _fullScale = half - 1;
        _lowerRail = -half;
        _rectified = rectified;
        SampleType = bits == 8 ? SampleType.Int8 : SampleType.Int16;
        Amplitude = new AmplitudeScale(_fullScale, 0, rectified ? double.NaN : _lowerRail, _fullScale);
    }

    /// <summary>Type of the stored samples.</summary>
    public SampleType SampleType { get; }

    /// <summary>Scale and rails of the stored samples.</summary>
    public AmplitudeScale Amplitude { get; }

    /// <summary>What is stored.</summary>
    public SignalForm Form => _rectified ? SignalForm.Rectified : SignalForm.RadioFrequency;

    /// <summary>Stores an A-scan.</summary>
    /// <param name="samples">Shape [sample]; fractions of full scale, changed in place to counts. NaN becomes 0.</param>
    /// <param name="stored">Samples × bytes of a sample; native byte order (little-endian).</param>
    /// <returns>Samples at the rails.</returns>
    public int Store(Span<float> samples, Span<byte> stored)
    {
        if (stored.Length != samples.Length * SampleType.SizeBytes())
            throw new ArgumentException(
                $"{samples.Length} samples need {samples.Length * SampleType.SizeBytes()} bytes, not {stored.Length}.",
                nameof(stored)
            );
        int rails = Round(samples);
        if (SampleType == SampleType.Int8)
        {
            Span<sbyte> counts = MemoryMarshal.Cast<byte, sbyte>(stored);
            for (int i = 0; i < counts.Length; i++)
                counts[i] = (sbyte)samples[i];
            return rails;
        }
        Span<short> wide = MemoryMarshal.Cast<byte, short>(stored);
        ref float from = ref MemoryMarshal.GetReference(samples);
        ref short to = ref MemoryMarshal.GetReference(wide);
        int n = 0;
        for (; n + 16 <= wide.Length; n += 16)
        {
            // Whole numbers within the range of 16 bits: conversion and narrowing are exact.
            Vector256<int> low = Vector256.ConvertToInt32(Vector256.LoadUnsafe(ref from, (nuint)n));
            Vector256<int> high = Vector256.ConvertToInt32(Vector256.LoadUnsafe(ref from, (nuint)n + 8));
            Vector256.Narrow(low, high).StoreUnsafe(ref to, (nuint)n);
        }
        for (; n < wide.Length; n++)
            wide[n] = (short)samples[n];
        return rails;
    }

    private int Round(Span<float> samples)
    {
        int rails = 0;
        int i = 0;
        ref float first = ref MemoryMarshal.GetReference(samples);
        Vector256<float> scale = Vector256.Create(_fullScale);
        Vector256<float> low = Vector256.Create(_lowerRail);
        Vector256<int> atRail = Vector256<int>.Zero;
        for (; i + 8 <= samples.Length; i += 8)
        {
            Vector256<float> value = Vector256.LoadUnsafe(ref first, (nuint)i) * scale;
            value = Vector256.ConditionalSelect(Vector256.Equals(value, value), value, Vector256<float>.Zero);
            value = Vector256.Round(Vector256.Min(Vector256.Max(value, low), scale));
            atRail -= (Vector256.GreaterThanOrEqual(value, scale) | Vector256.LessThanOrEqual(value, low)).AsInt32();
            if (_rectified)
                value = Vector256.Min(Vector256.Abs(value), scale);
            value.StoreUnsafe(ref first, (nuint)i);
        }
        rails += Vector256.Sum(atRail);
        for (; i < samples.Length; i++)
        {
            float value = samples[i] * _fullScale;
            value = float.IsNaN(value) ? 0 : MathF.Round(Math.Clamp(value, _lowerRail, _fullScale));
            if (value >= _fullScale || value <= _lowerRail)
                rails++;
            samples[i] = _rectified ? Math.Min(Math.Abs(value), _fullScale) : value;
        }
        return rails;
    }
}
