using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>
/// Average of neighbouring A-scans, built by adding one record after another. Plain sums in the caller's order, never a running
/// difference: the result does not depend on where a tile starts.
/// </summary>
public static class NeighbourAverage
{
    /// <summary>Adds a record: <c>sum[i] += record[i]</c>.</summary>
    /// <param name="record">Shape [sample].</param>
    /// <param name="sum">Shape [sample], same length; must not overlap the record.</param>
    /// <param name="path">Implementation; all give the same bits.</param>
    /// <exception cref="ArgumentException">Lengths differ.</exception>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Add(ReadOnlySpan<float> record, Span<float> sum, KernelPath path)
    {
        if (record.Length != sum.Length)
            throw new ArgumentException($"{record.Length} samples do not fit a sum of {sum.Length}.", nameof(sum));
        ref float x = ref MemoryMarshal.GetReference(record);
        ref float y = ref MemoryMarshal.GetReference(sum);
        int n = sum.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            for (; i + 16 <= n; i += 16)
                (Vector512.LoadUnsafe(ref y, (nuint)i) + Vector512.LoadUnsafe(ref x, (nuint)i)).StoreUnsafe(
                    ref y,
                    (nuint)i
                );
        }
        else if (path == KernelPath.Portable)
        {
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
                (Vector.LoadUnsafe(ref y, (nuint)i) + Vector.LoadUnsafe(ref x, (nuint)i)).StoreUnsafe(ref y, (nuint)i);
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) += Unsafe.Add(ref x, i);
    }

    /// <summary>Multiplies in place: <c>values[i] *= factor</c>.</summary>
    /// <param name="values">Shape [sample].</param>
    /// <param name="factor">One over the number of records added.</param>
    /// <param name="path">Implementation; all give the same bits.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Scale(Span<float> values, float factor, KernelPath path)
    {
        ref float y = ref MemoryMarshal.GetReference(values);
        int n = values.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            var f = Vector512.Create(factor);
            for (; i + 16 <= n; i += 16)
                (Vector512.LoadUnsafe(ref y, (nuint)i) * f).StoreUnsafe(ref y, (nuint)i);
        }
        else if (path == KernelPath.Portable)
        {
            var f = new Vector<float>(factor);
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
                (Vector.LoadUnsafe(ref y, (nuint)i) * f).StoreUnsafe(ref y, (nuint)i);
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) *= factor;
    }
}
