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

    private readonly AnalyticFir _filter;
    private readonly float[] _rows;
    private readonly int[] _offsets;
    private readonly int _stride;
    private readonly int _margin;

    /// <summary>Makes room for records.</summary>
    /// <param name="filter">The filter that will read the rows.</param>
    /// <param name="capacity">Longest record, samples.</param>
    public PhaseSplit(AnalyticFir filter, int capacity)
    {
        ArgumentNullException.ThrowIfNull(filter);
        ArgumentOutOfRangeException.ThrowIfNegative(capacity);
        _filter = filter;
        Capacity = capacity;
        int half = filter.HalfLength;
        _margin = (half + 3) / 4 + 1;
        _stride = _margin + (capacity + 3) / 4 + _margin + 2 * Slack;
        _rows = new float[4 * _stride];
        _offsets = new int[filter.Taps.Count];
        for (int m = 0; m < _offsets.Length; m++)
        {
            // Output j is sample 4 j; tap m (reversed) reads sample 4 j + m - half.
            int sample = m - half;
            _offsets[m] = (sample & 3) * _stride + _margin + (sample >> 2);
        }
    }

    /// <summary>Longest record, samples.</summary>
    public int Capacity { get; }

    /// <summary>Samples of the record held.</summary>
    public int Length { get; private set; }

    /// <summary>Outputs: one for every 4th sample, starting with sample 0.</summary>
    public int OutputCount => (Length + 3) / 4;

    /// <summary>Takes a record.</summary>
    /// <param name="record">Shape [sample], at most <see cref="Capacity"/>.</param>
    public void Load(ReadOnlySpan<float> record)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(record.Length, Capacity, nameof(record));
        int old = Length;
        Length = record.Length;
        int done = 0;
        if (_filter.Path == KernelPath.Wide && Avx512F.IsSupported)
            done = LoadWide(record);
        for (int phase = 0; phase < 4; phase++)
        {
            Span<float> row = _rows.AsSpan(phase * _stride + _margin, _stride - _margin);
            int j = done / 4;
            for (int i = done + phase; i < record.Length; i += 4)
                row[j++] = record[i];
            // A shorter record than the last: the rest of the old one becomes zeros.
            for (; j < (old + 3) / 4; j++)
                row[j] = 0;
        }
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
            _filter.Reversed,
            ref squared,
            ref squared,
            count,
            false,
            _filter.Path
        );

    // 64 samples at a time: two two-source permutes and an insert for each row.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private int LoadWide(ReadOnlySpan<float> record)
    {
        ref float source = ref MemoryMarshal.GetReference(record);
        ref float rows = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_rows), _margin);
        var first = Vector512.Create(0, 4, 8, 12, 16, 20, 24, 28, 0, 0, 0, 0, 0, 0, 0, 0);
        var i1 = first + Vector512.Create(1);
        var i2 = first + Vector512.Create(2);
        var i3 = first + Vector512.Create(3);
        nuint stride = (nuint)_stride;
        int i = 0;
        for (; i + 64 <= record.Length; i += 64)
        {
            var a = Vector512.LoadUnsafe(ref source, (nuint)i);
            var b = Vector512.LoadUnsafe(ref source, (nuint)i + 16);
            var c = Vector512.LoadUnsafe(ref source, (nuint)i + 32);
            var d = Vector512.LoadUnsafe(ref source, (nuint)i + 48);
            nuint j = (nuint)i / 4;
            Row(a, b, c, d, first).StoreUnsafe(ref rows, j);
            Row(a, b, c, d, i1).StoreUnsafe(ref rows, j + stride);
            Row(a, b, c, d, i2).StoreUnsafe(ref rows, j + 2 * stride);
            Row(a, b, c, d, i3).StoreUnsafe(ref rows, j + 3 * stride);
        }
        return i;
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
