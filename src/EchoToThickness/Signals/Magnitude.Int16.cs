using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

public static partial class Magnitude
{
    /// <summary>First sample with <c>|x| &gt;= level</c>, on stored counts; |-32768| counts as 32768.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="levelCounts">Level; below 1 every sample reaches it, above 32768 none.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int FirstAtLeast(ReadOnlySpan<short> samples, int levelCounts, KernelPath path)
    {
        if (levelCounts > 32768)
            return -1;
        levelCounts = Math.Max(levelCounts, 0);
        ref short x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        int i = 0;
        // The magnitude of a signed word, read as unsigned, is right for -32768 too.
        if (path == KernelPath.Wide)
        {
            var limit = Vector512.Create((ushort)levelCounts);
            for (; i + 32 <= n; i += 32)
            {
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i)).AsUInt16(), limit)
                    .ExtractMostSignificantBits();
                if (mask != 0)
                    return i + BitOperations.TrailingZeroCount(mask);
            }
            if (i < n && n >= 32)
            {
                // The last vector overlaps samples that were looked at already: none of them reached the level.
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)n - 32)).AsUInt16(), limit)
                    .ExtractMostSignificantBits();
                return mask == 0 ? -1 : n - 32 + BitOperations.TrailingZeroCount(mask);
            }
        }
        else if (path == KernelPath.Portable)
        {
            var limit = new Vector<ushort>((ushort)levelCounts);
            for (; i + Vector<short>.Count <= n; i += Vector<short>.Count)
            {
                if (Vector.GreaterThanOrEqualAny(Absolute(Vector.LoadUnsafe(ref x, (nuint)i)), limit))
                    break;
            }
        }
        for (; i < n; i++)
        {
            if (Math.Abs((int)Unsafe.Add(ref x, i)) >= levelCounts)
                return i;
        }
        return -1;
    }

    /// <summary>Index of the largest <c>|x|</c> on stored counts, the earliest of equals; |-32768| counts as 32768.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when there is no sample.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int IndexOfLargest(ReadOnlySpan<short> samples, KernelPath path)
    {
        ref short x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        if (path == KernelPath.Wide && n >= 32)
        {
            var a = Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)n - 32)).AsUInt16();
            var b = Vector512<ushort>.Zero;
            int i = 0;
            for (; i + 64 <= n; i += 64)
            {
                a = Vector512.Max(a, Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i)).AsUInt16());
                b = Vector512.Max(b, Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i + 32)).AsUInt16());
            }
            if (i + 32 <= n)
                b = Vector512.Max(b, Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i)).AsUInt16());
            return FirstAtLeast(samples, Across(Vector512.Max(a, b)), path);
        }
        if (path != KernelPath.Scalar && n >= Vector<short>.Count)
        {
            var a = Absolute(Vector.LoadUnsafe(ref x, (nuint)(n - Vector<short>.Count)));
            for (int i = 0; i + Vector<short>.Count <= n; i += Vector<short>.Count)
                a = Vector.Max(a, Absolute(Vector.LoadUnsafe(ref x, (nuint)i)));
            int max = 0;
            for (int k = 0; k < Vector<short>.Count; k++)
                max = Math.Max(max, a[k]);
            return FirstAtLeast(samples, max, path);
        }
        int best = -1;
        int largest = -1;
        for (int i = 0; i < n; i++)
        {
            int value = Math.Abs((int)Unsafe.Add(ref x, i));
            if (value > largest)
            {
                largest = value;
                best = i;
            }
        }
        return best;
    }

    // Vector.Abs may saturate or wrap at -32768 depending on the machine: max(x, -x) as unsigned does not.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector<ushort> Absolute(Vector<short> x)
    {
        var negative = Vector.LessThan(x, Vector<short>.Zero);
        return Vector.AsVectorUInt16((x ^ negative) - negative);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Across(Vector512<ushort> v)
    {
        var a = Vector256.Max(v.GetLower(), v.GetUpper());
        var b = Vector128.Max(a.GetLower(), a.GetUpper());
        if (System.Runtime.Intrinsics.X86.Sse41.IsSupported)
            return 0xFFFF - System.Runtime.Intrinsics.X86.Sse41.MinHorizontal(~b)[0];
        int max = 0;
        for (int k = 0; k < Vector128<ushort>.Count; k++)
            max = Math.Max(max, b[k]);
        return max;
    }
}
