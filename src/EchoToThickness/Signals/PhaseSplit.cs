using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace EchoToThickness.Signals;

/// <summary>
/// A record stored as four rows, sample i in row i mod 4 at i / 4, with zeros around each row: so a filter evaluated at every 4th
/// sample loads consecutive addresses. Scratch of one thread; no call after construction allocates.
/// </summary>
public sealed class PhaseSplit
{
    /// <summary>Outputs past the end that a kernel may compute and throw away (one vector of 16).</summary>
    private const int Slack = 16;

    private const int Block = 64;

    private readonly AnalyticFir _filter;
    private readonly float[] _rows;
    private readonly float[] _largest;
    private readonly nint[] _offsets;
    private readonly int _stride;
    private readonly int _margin;
    private readonly int _origin;
    private readonly int _largestOrigin;

    /// <summary>Makes room for records.</summary>
    /// <param name="filter">The filter that will read the rows.</param>
    /// <param name="capacity">Longest record, samples.</param>
    public PhaseSplit(AnalyticFir filter, int capacity)
    {
        ArgumentNullException.ThrowIfNull(filter);
        ArgumentOutOfRangeException.ThrowIfNegative(capacity);
        _filter = filter;
        Capacity = capacity;
        _margin = (filter.HalfLength + 3) / 4 + Slack;
        // A multiple of 16, so that every row starts on a cache line.
        _stride = (2 * _margin + (capacity + 3) / 4 + 2 * Slack + 15) / 16 * 16;
        _rows = AlignedBuffer.Create(_margin, 4 * _stride, out _origin);
        _largest = AlignedBuffer.Create(_margin, _stride, out _largestOrigin);
        // Output j is sample 4 j; sample 4 j + n lies in row n mod 4 at j + floor(n / 4).
        _offsets = filter.Offsets(n => (n & 3) * _stride + _origin + (n >> 2));
    }

    /// <summary>Longest record, samples.</summary>
    public int Capacity { get; }

    /// <summary>Samples of the record held.</summary>
    public int Length { get; private set; }

    /// <summary>Outputs: one for every 4th sample, starting with sample 0.</summary>
    public int OutputCount => (Length + 3) / 4;

    /// <summary>Groups before group 0 and behind the last that <see cref="Largest"/> may be asked for; they are zero.</summary>
    internal int Margin => _margin;

    /// <summary>Largest magnitudes of groups of four samples, <c>max |x[4 j .. 4 j + 3]|</c>.</summary>
    /// <param name="first">First group, not below <c>-Margin</c>.</param>
    /// <param name="end">One past the last group.</param>
    internal ReadOnlySpan<float> Largest(int first, int end) => _largest.AsSpan(_largestOrigin + first, end - first);

    /// <summary>Takes a record.</summary>
    /// <param name="record">Shape [sample], at most <see cref="Capacity"/>.</param>
    public void Load(ReadOnlySpan<float> record)
    {
        Start(record.Length);
        ref float rows = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_rows), _origin);
        ref float largest = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_largest), _largestOrigin);
        ref float x = ref MemoryMarshal.GetReference(record);
        int whole = record.Length / 4;
        nint stride = _stride;
        for (int j = 0; j < whole; j++)
        {
            ref float source = ref Unsafe.Add(ref x, 4 * j);
            ref float row = ref Unsafe.Add(ref rows, j);
            float a = source;
            float b = Unsafe.Add(ref source, 1);
            float c = Unsafe.Add(ref source, 2);
            float d = Unsafe.Add(ref source, 3);
            row = a;
            Unsafe.Add(ref row, stride) = b;
            Unsafe.Add(ref row, 2 * stride) = c;
            Unsafe.Add(ref row, 3 * stride) = d;
            a = float.MaxNative(MathF.Abs(a), MathF.Abs(b));
            c = float.MaxNative(MathF.Abs(c), MathF.Abs(d));
            Unsafe.Add(ref largest, j) = float.MaxNative(a, c);
        }
        if (4 * whole == record.Length)
            return;
        float most = 0;
        for (int phase = 0; phase < 4; phase++)
        {
            int i = 4 * whole + phase;
            float value = i < record.Length ? record[i] : 0;
            Unsafe.Add(ref rows, phase * stride + whole) = value;
            most = MathF.Max(most, MathF.Abs(value));
        }
        Unsafe.Add(ref largest, whole) = most;
    }

    /// <summary>As <see cref="Load"/>, of a record that is followed by zeros up to the next multiple of 64 samples.</summary>
    /// <param name="padded">Shape [sample], rounded up to a multiple of 64.</param>
    /// <param name="length">Samples.</param>
    internal void LoadPadded(ReadOnlySpan<float> padded, int length)
    {
        if (!UseWide)
        {
            Load(padded[..length]);
            return;
        }
        Start(length);
        for (int done = 0; done < length; done += Block)
        {
            ref float source = ref Unsafe.AsRef(in padded.Slice(done, Block)[0]);
            StoreWide(
                Vector512.LoadUnsafe(ref source),
                Vector512.LoadUnsafe(ref source, 16),
                Vector512.LoadUnsafe(ref source, 32),
                Vector512.LoadUnsafe(ref source, 48),
                done / 4
            );
        }
    }

    /// <summary>
    /// Converts 16-bit samples (as <see cref="SampleConversion"/>, the same bits) to a record that is followed by zeros, and takes it.
    /// </summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Counts that mean no signal.</param>
    /// <param name="scale">Output for one count.</param>
    /// <param name="padded">Shape [sample], rounded up to a multiple of 64: takes the record; its rest is zero and stays so.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal void LoadPadded(ReadOnlySpan<short> stored, float zeroCounts, float scale, Span<float> padded)
    {
        if (!UseWide)
        {
            SampleConversion.ToSingle(stored, zeroCounts, scale, padded, _filter.Path);
            Load(padded[..stored.Length]);
            return;
        }
        Start(stored.Length);
        var zero = Vector512.Create(zeroCounts);
        var factor = Vector512.Create(scale);
        int done = 0;
        for (; done + Block <= stored.Length; done += Block)
        {
            ref short source = ref Unsafe.AsRef(in stored.Slice(done, Block)[0]);
            ref float record = ref padded.Slice(done, Block)[0];
            (Vector512<int> i0, Vector512<int> i1) = Vector512.Widen(Vector512.LoadUnsafe(ref source));
            (Vector512<int> i2, Vector512<int> i3) = Vector512.Widen(Vector512.LoadUnsafe(ref source, 32));
            var a = (Vector512.ConvertToSingle(i0) - zero) * factor;
            var b = (Vector512.ConvertToSingle(i1) - zero) * factor;
            var c = (Vector512.ConvertToSingle(i2) - zero) * factor;
            var d = (Vector512.ConvertToSingle(i3) - zero) * factor;
            a.StoreUnsafe(ref record);
            b.StoreUnsafe(ref record, 16);
            c.StoreUnsafe(ref record, 32);
            d.StoreUnsafe(ref record, 48);
            StoreWide(a, b, c, d, done / 4);
        }
        if (done == stored.Length)
            return;
        SampleConversion.ToSingle(stored[done..], zeroCounts, scale, padded[done..], _filter.Path);
        ref float rest = ref padded.Slice(done, Block)[0];
        StoreWide(
            Vector512.LoadUnsafe(ref rest),
            Vector512.LoadUnsafe(ref rest, 16),
            Vector512.LoadUnsafe(ref rest, 32),
            Vector512.LoadUnsafe(ref rest, 48),
            done / 4
        );
    }

    private bool UseWide => _filter.Path == KernelPath.Wide && Avx512F.IsSupported;

    private void Start(int length)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(length, Capacity, nameof(length));
        if (length < Length)
        {
            // What a longer record left becomes zeros.
            Array.Clear(_rows);
            Array.Clear(_largest);
        }
        Length = length;
    }

    /// <summary>Squared envelope at samples <c>4 first, 4 (first + 1), ...</c>; the same bits as the filter at full rate.</summary>
    /// <param name="first">First output.</param>
    /// <param name="squared">Shape [output].</param>
    /// <exception cref="ArgumentException">The outputs leave the record.</exception>
    public void SquaredEnvelope(int first, Span<float> squared)
    {
        if (first < 0 || first > OutputCount - squared.Length)
            throw new ArgumentException(
                $"Outputs {first} to {first + squared.Length} leave the {OutputCount} of the record.",
                nameof(first)
            );
        SquaredEnvelope(first, ref MemoryMarshal.GetReference(squared), squared.Length);
    }

    /// <summary>As above without checks; may run up to 16 outputs past the last (zeros are read there).</summary>
    /// <param name="first">First output.</param>
    /// <param name="squared">Takes <paramref name="count"/> values.</param>
    /// <param name="count">Outputs.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void SquaredEnvelope(int first, ref float squared, int count) =>
        FirKernels.Complex(
            ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_rows), first),
            _offsets,
            _filter.Folded,
            ref squared,
            ref squared,
            count,
            false,
            _filter.Path
        );

    // 64 samples: two two-source permutes and an insert for each row.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void StoreWide(Vector512<float> a, Vector512<float> b, Vector512<float> c, Vector512<float> d, int output)
    {
        ref float rows = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_rows), _origin + output);
        var first = Vector512.Create(0, 4, 8, 12, 16, 20, 24, 28, 0, 0, 0, 0, 0, 0, 0, 0);
        nuint stride = (nuint)_stride;
        var r0 = Row(a, b, c, d, first);
        var r1 = Row(a, b, c, d, first + Vector512.Create(1));
        var r2 = Row(a, b, c, d, first + Vector512.Create(2));
        var r3 = Row(a, b, c, d, first + Vector512.Create(3));
        r0.StoreUnsafe(ref rows);
        r1.StoreUnsafe(ref rows, stride);
        r2.StoreUnsafe(ref rows, 2 * stride);
        r3.StoreUnsafe(ref rows, 3 * stride);
        var even = Vector512.Max(Vector512.Abs(r0), Vector512.Abs(r1));
        var odd = Vector512.Max(Vector512.Abs(r2), Vector512.Abs(r3));
        Vector512
            .Max(even, odd)
            .StoreUnsafe(ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_largest), _largestOrigin + output));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Row(
        Vector512<float> a,
        Vector512<float> b,
        Vector512<float> c,
        Vector512<float> d,
        Vector512<int> index
    ) =>
        Vector512.Create(
            Avx512F.PermuteVar16x32x2(a, index, b).GetLower(),
            Avx512F.PermuteVar16x32x2(c, index, d).GetLower()
        );
}
