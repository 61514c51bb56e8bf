using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EchoToThickness.Signals;

/// <summary>Real FIR filter compiled for one kernel path, delay compensated. Immutable and thread-safe; no call allocates.</summary>
/// <remarks>
/// <c>y[i] = sum over k of h[k] x[i + (taps - 1) / 2 - k]</c>, samples outside the record count as zero ("same" mode of
/// numpy.convolve for records longer than the filter). Every <see cref="KernelPath"/> gives the same bits.
/// </remarks>
public sealed class RealFir
{
    /// <summary>Longest filter.</summary>
    public const int MaximumTaps = 511;

    private readonly float[] _taps;

    /// <summary>Compiles taps.</summary>
    /// <param name="taps">Shape [tap]; odd, at most <see cref="MaximumTaps"/>.</param>
    /// <param name="path">Implementation.</param>
    public RealFir(ReadOnlySpan<double> taps, KernelPath path)
    {
        if (taps.Length % 2 == 0 || taps.Length > MaximumTaps)
            throw new ArgumentException(
                $"{taps.Length} taps; the number must be odd and at most {MaximumTaps}.",
                nameof(taps)
            );
        Path = path;
        _taps = new float[taps.Length];
        for (int m = 0; m < taps.Length; m++)
            _taps[m] = (float)taps[taps.Length - 1 - m];
    }

    /// <summary>Implementation.</summary>
    public KernelPath Path { get; }

    /// <summary>Samples on either side of an output that it depends on, <c>(taps - 1) / 2</c>.</summary>
    public int HalfLength => _taps.Length / 2;

    /// <summary>Filters a stretch of the record.</summary>
    /// <param name="record">Shape [sample]: the whole record; zeros are assumed outside.</param>
    /// <param name="first">First sample of the stretch.</param>
    /// <param name="filtered">Shape [stretch]: takes the result; must not overlap the record.</param>
    /// <exception cref="ArgumentException">The stretch leaves the record, or the buffers overlap.</exception>
    [SkipLocalsInit]
    public void Same(ReadOnlySpan<float> record, int first, Span<float> filtered)
    {
        if (first < 0 || first > record.Length - filtered.Length)
            throw new ArgumentException(
                $"Samples {first} to {first + filtered.Length} leave the record of {record.Length}.",
                nameof(first)
            );
        if (record.Overlaps(filtered))
            throw new ArgumentException("The result must not overlap the record.", nameof(filtered));
        int half = HalfLength;
        int end = first + filtered.Length;
        int middleStart = Math.Clamp(half, first, end);
        int middleEnd = Math.Clamp(record.Length - half, middleStart, end);
        if (middleEnd > middleStart)
            FirKernels.Real(
                ref Unsafe.Add(ref MemoryMarshal.GetReference(record), middleStart - half),
                _taps,
                ref filtered[middleStart - first],
                middleEnd - middleStart,
                Path
            );
        if (middleStart == first && middleEnd == end)
            return;
        Span<float> padded = stackalloc float[Padding.Capacity];
        Edge(record, padded, first, middleStart, first, filtered);
        Edge(record, padded, middleEnd, end, first, filtered);
    }

    private void Edge(ReadOnlySpan<float> record, Span<float> padded, int from, int to, int first, Span<float> filtered)
    {
        for (int i = from; i < to; )
        {
            int count = Math.Min(to - i, Padding.Capacity - 2 * HalfLength);
            Padding.Copy(record, i - HalfLength, padded[..(count + 2 * HalfLength)]);
            FirKernels.Real(ref MemoryMarshal.GetReference(padded), _taps, ref filtered[i - first], count, Path);
            i += count;
        }
    }
}
