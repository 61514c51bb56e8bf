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
    private readonly nint[] _consecutive;
    private readonly float[] _folded;

    /// <summary>Compiles taps.</summary>
    /// <param name="taps">Taps of linear phase: the last is the conjugate of the first, and so on; at most 511.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">The taps are not conjugate-symmetric (to 1e-9 of the largest), or too many.</exception>
    public AnalyticFir(AnalyticTaps taps, KernelPath path)
    {
        ArgumentNullException.ThrowIfNull(taps);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(taps.Count, RealFir.MaximumTaps, nameof(taps));
        Taps = taps;
        Path = path;
        int half = HalfLength;
        _folded = new float[taps.Count];
        // Reversed: sample i + m - half meets tap taps - 1 - m.
        _folded[0] = (float)taps.Real[half];
        double worst = Math.Abs(taps.Imaginary[half]);
        for (int m = 0; m < half; m++)
        {
            int k = taps.Count - 1 - m;
            worst = Math.Max(worst, Math.Abs(taps.Real[k] - taps.Real[m]));
            worst = Math.Max(worst, Math.Abs(taps.Imaginary[k] + taps.Imaginary[m]));
            _folded[1 + 2 * m] = (float)(0.5 * (taps.Real[k] + taps.Real[m]));
            _folded[2 + 2 * m] = (float)(0.5 * (taps.Imaginary[k] - taps.Imaginary[m]));
        }
        if (!(worst <= 1e-9 * taps.Gain))
            throw new ArgumentException(
                $"The taps differ from conjugate symmetry by {worst}; the filter needs linear phase.",
                nameof(taps)
            );
        _consecutive = Offsets(sample => sample + half);
    }

    /// <summary>The taps as designed; the kernels use them rounded to single precision.</summary>
    public AnalyticTaps Taps { get; }

    /// <summary>Implementation.</summary>
    public KernelPath Path { get; }

    /// <summary>Samples on either side of an output that it depends on, <c>(taps - 1) / 2</c>.</summary>
    public int HalfLength => Taps.Count / 2;

    /// <summary>Taps as the kernels take them.</summary>
    internal ReadOnlySpan<float> Folded => _folded;

    /// <summary>Offsets as the kernels take them, for a layout of the samples.</summary>
    /// <param name="address">Where the sample lies that is so many samples behind the output's own.</param>
    internal nint[] Offsets(Func<int, int> address)
    {
        int half = HalfLength;
        var offsets = new nint[Taps.Count];
        offsets[0] = address(0);
        for (int m = 0; m < half; m++)
        {
            offsets[1 + 2 * m] = address(m - half);
            offsets[2 + 2 * m] = address(half - m);
        }
        return offsets;
    }

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
        FirKernels.Complex(ref support, _consecutive, _folded, ref squared, ref squared, count, false, Path);

    [SkipLocalsInit]
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
        if (middleStart == first && middleEnd == end)
            return;
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
            _folded,
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
