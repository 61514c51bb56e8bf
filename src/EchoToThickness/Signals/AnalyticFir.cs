using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EchoToThickness.Signals;

/// <summary>
/// Complex FIR filter compiled for one kernel path: analytic signal or envelope of a band, delay compensated. Immutable and
/// thread-safe; no call allocates.
/// </summary>
/// <remarks>
/// <c>y[i] = sum over k of g[k] x[i + (taps - 1) / 2 - k]</c>, samples outside the record count as zero ("same" mode). Every
/// <see cref="KernelPath"/> gives the same bits, and so does every way of cutting the record into calls.
/// </remarks>
public sealed class AnalyticFir
{
    private readonly int[] _consecutive;
    private readonly float[] _taps;

    /// <summary>Compiles taps.</summary>
    /// <param name="taps">Taps; at most 511.</param>
    /// <param name="path">Implementation.</param>
    public AnalyticFir(AnalyticTaps taps, KernelPath path)
    {
        ArgumentNullException.ThrowIfNull(taps);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(taps.Count, RealFir.MaximumTaps, nameof(taps));
        Taps = taps;
        Path = path;
        _taps = new float[2 * taps.Count];
        _consecutive = new int[taps.Count];
        for (int m = 0; m < taps.Count; m++)
        {
            _taps[2 * m] = (float)taps.Real[taps.Count - 1 - m];
            _taps[2 * m + 1] = (float)taps.Imaginary[taps.Count - 1 - m];
            _consecutive[m] = m;
        }
    }

    /// <summary>The taps as designed; the kernels use them rounded to single precision.</summary>
    public AnalyticTaps Taps { get; }

    /// <summary>Implementation.</summary>
    public KernelPath Path { get; }

    /// <summary>Samples on either side of an output that it depends on, <c>(taps - 1) / 2</c>.</summary>
    public int HalfLength => Taps.Count / 2;

    /// <summary>Shape [tap, 2]: reversed taps, single precision.</summary>
    internal ReadOnlySpan<float> Reversed => _taps;

    /// <summary>Squared envelope <c>|y|^2</c> of a stretch of the record.</summary>
    /// <param name="record">Shape [sample]: the whole record; zeros are assumed outside.</param>
    /// <param name="first">First sample of the stretch.</param>
    /// <param name="squared">Shape [stretch]: takes the result; must not overlap the record.</param>
    /// <exception cref="ArgumentException">The stretch leaves the record, or the buffers overlap.</exception>
    public void SquaredEnvelope(ReadOnlySpan<float> record, int first, Span<float> squared)
    {
        Check(record, first, squared, nameof(squared));
        Run(record, first, squared, default, false);
    }

    /// <summary>Envelope <c>|y|</c> of a stretch of the record: the square root of <see cref="SquaredEnvelope"/>.</summary>
    /// <param name="record">Shape [sample]: the whole record; zeros are assumed outside.</param>
    /// <param name="first">First sample of the stretch.</param>
    /// <param name="envelope">Shape [stretch]: takes the result; must not overlap the record.</param>
    /// <exception cref="ArgumentException">The stretch leaves the record, or the buffers overlap.</exception>
    public void Envelope(ReadOnlySpan<float> record, int first, Span<float> envelope)
    {
        SquaredEnvelope(record, first, envelope);
        Magnitude.SquareRoot(envelope, Path);
    }

    /// <summary>Analytic signal of a stretch of the record.</summary>
    /// <param name="record">Shape [sample]: the whole record; zeros are assumed outside.</param>
    /// <param name="first">First sample of the stretch.</param>
    /// <param name="real">Shape [stretch]: the band-passed record.</param>
    /// <param name="imaginary">Shape [stretch]: its Hilbert transform within the band.</param>
    /// <exception cref="ArgumentException">The stretch leaves the record, lengths differ, or the buffers overlap.</exception>
    public void AnalyticSignal(ReadOnlySpan<float> record, int first, Span<float> real, Span<float> imaginary)
    {
        Check(record, first, real, nameof(real));
        Check(record, first, imaginary, nameof(imaginary));
        if (real.Length != imaginary.Length || real.Overlaps(imaginary))
            throw new ArgumentException("Real and imaginary parts need two buffers of one length.", nameof(imaginary));
        Run(record, first, real, imaginary, true);
    }

    /// <summary>Squared envelope where the caller vouches for zeros around the record.</summary>
    /// <param name="support">Sample <c>first - HalfLength</c>; <c>count + 2 HalfLength</c> samples are read.</param>
    /// <param name="squared">Takes the result.</param>
    /// <param name="count">Outputs.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void SquaredEnvelopePadded(ref float support, ref float squared, int count) =>
        FirKernels.Complex(ref support, _consecutive, _taps, ref squared, ref squared, count, false, Path);

    private void Run(ReadOnlySpan<float> record, int first, Span<float> a, Span<float> b, bool pair)
    {
        int half = HalfLength;
        int end = first + a.Length;
        int middleStart = Math.Clamp(half, first, end);
        int middleEnd = Math.Clamp(record.Length - half, middleStart, end);
        if (middleEnd > middleStart)
            Core(
                ref Unsafe.Add(ref MemoryMarshal.GetReference(record), middleStart - half),
                a.Slice(middleStart - first, middleEnd - middleStart),
                pair ? b.Slice(middleStart - first, middleEnd - middleStart) : default,
                pair
            );
        // Outputs whose support leaves the record: the samples are copied between zeros, the same kernel runs on the copy.
        Span<float> padded = stackalloc float[Padding.Capacity];
        Edge(record, padded, first, middleStart, first, a, b, pair);
        Edge(record, padded, middleEnd, end, first, a, b, pair);
    }

    private void Edge(
        ReadOnlySpan<float> record,
        Span<float> padded,
        int from,
        int to,
        int first,
        Span<float> a,
        Span<float> b,
        bool pair
    )
    {
        for (int i = from; i < to; )
        {
            int count = Math.Min(to - i, Padding.Capacity - 2 * HalfLength);
            Padding.Copy(record, i - HalfLength, padded[..(count + 2 * HalfLength)]);
            Core(
                ref MemoryMarshal.GetReference(padded),
                a.Slice(i - first, count),
                pair ? b.Slice(i - first, count) : default,
                pair
            );
            i += count;
        }
    }

    private void Core(ref float support, Span<float> a, Span<float> b, bool pair) =>
        FirKernels.Complex(
            ref support,
            _consecutive,
            _taps,
            ref MemoryMarshal.GetReference(a),
            ref MemoryMarshal.GetReference(b),
            a.Length,
            pair,
            Path
        );

    private static void Check(ReadOnlySpan<float> record, int first, Span<float> destination, string name)
    {
        if (first < 0 || first > record.Length - destination.Length)
            throw new ArgumentException(
                $"Samples {first} to {first + destination.Length} leave the record of {record.Length}.",
                name
            );
        if (record.Overlaps(destination))
            throw new ArgumentException("The result must not overlap the record.", name);
    }
}
