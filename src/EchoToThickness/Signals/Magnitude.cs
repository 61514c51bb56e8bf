using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>
/// First sample over a level and largest sample, by magnitude or with sign. Of equal samples the earliest counts; a sample equal to
/// the level reaches it; NaN reaches nothing and is never the largest. Every path gives the same index.
/// </summary>
public static partial class Magnitude
{
    /// <summary>First sample with <c>|x| &gt;= level</c>.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="level">Level.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int FirstAtLeast(ReadOnlySpan<float> samples, float level, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            var limit = Vector512.Create(level);
            for (; i + 16 <= n; i += 16)
            {
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i)), limit)
                    .ExtractMostSignificantBits();
                if (mask != 0)
                    return i + BitOperations.TrailingZeroCount(mask);
            }
            if (i < n && n >= 16)
            {
                // The last vector overlaps samples that were looked at already: none of them reached the level.
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)n - 16)), limit)
                    .ExtractMostSignificantBits();
                return mask == 0 ? -1 : n - 16 + BitOperations.TrailingZeroCount(mask);
            }
        }
        else if (path == KernelPath.Portable)
        {
            var limit = new Vector<float>(level);
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
            {
                if (Vector.GreaterThanOrEqualAny(Vector.Abs(Vector.LoadUnsafe(ref x, (nuint)i)), limit))
                    break;
            }
        }
        for (; i < n; i++)
        {
            if (MathF.Abs(Unsafe.Add(ref x, i)) >= level)
                return i;
        }
        return -1;
    }

    /// <summary>First sample with <c>x &gt;= level</c>, sign counting.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="level">Level.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int FirstSignedAtLeast(ReadOnlySpan<float> samples, float level, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            var limit = Vector512.Create(level);
            for (; i + 16 <= n; i += 16)
            {
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.LoadUnsafe(ref x, (nuint)i), limit)
                    .ExtractMostSignificantBits();
                if (mask != 0)
                    return i + BitOperations.TrailingZeroCount(mask);
            }
            if (i < n && n >= 16)
            {
                // The last vector overlaps samples that were looked at already: none of them reached the level.
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.LoadUnsafe(ref x, (nuint)n - 16), limit)
                    .ExtractMostSignificantBits();
                return mask == 0 ? -1 : n - 16 + BitOperations.TrailingZeroCount(mask);
            }
        }
        else if (path == KernelPath.Portable)
        {
            var limit = new Vector<float>(level);
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
            {
                if (Vector.GreaterThanOrEqualAny(Vector.LoadUnsafe(ref x, (nuint)i), limit))
                    break;
            }
        }
        for (; i < n; i++)
        {
            if (Unsafe.Add(ref x, i) >= level)
                return i;
        }
        return -1;
    }

    /// <summary>Index of the largest <c>|x|</c>, the earliest of equals.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when there is no sample that is a number.</returns>
    public static int IndexOfLargest(ReadOnlySpan<float> samples, KernelPath path)
    {
        if (path == KernelPath.Scalar || samples.Length < Vector<float>.Count)
        {
            int best = -1;
            float largest = -1;
            for (int i = 0; i < samples.Length; i++)
            {
                float value = MathF.Abs(samples[i]);
                if (value > largest)
                {
                    largest = value;
                    best = i;
                }
            }
            return best;
        }
        float max = Largest(samples, path);
        return max < 0 ? -1 : FirstAtLeast(samples, max, path);
    }

    /// <summary>Index of the largest x, sign counting, the earliest of equals.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when there is no sample that is a number.</returns>
    public static int IndexOfLargestSigned(ReadOnlySpan<float> samples, KernelPath path)
    {
        float max = LargestSigned(samples, path);
        // Minus infinity is both "no number seen" and a value that may be there.
        return FirstSignedAtLeast(samples, max, path);
    }

    /// <summary>Largest <c>|x|</c>; NaN is passed over.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    /// <returns>The magnitude; -1 when there is no sample that is a number.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float Largest(ReadOnlySpan<float> samples, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        float largest = -1;
        int i = 0;
        if (path == KernelPath.Wide && n >= 16)
        {
            var a = Vector512.Create(-1f);
            var b = a;
            for (; i + 32 <= n; i += 32)
            {
                var u = Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i));
                var v = Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i + 16));
                a = Vector512.ConditionalSelect(Vector512.GreaterThan(u, a), u, a);
                b = Vector512.ConditionalSelect(Vector512.GreaterThan(v, b), v, b);
            }
            if (i + 16 <= n)
            {
                var u = Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i));
                a = Vector512.ConditionalSelect(Vector512.GreaterThan(u, a), u, a);
            }
            var w = Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)n - 16));
            b = Vector512.ConditionalSelect(Vector512.GreaterThan(w, b), w, b);
            return Across(Vector512.Max(a, b));
        }
        if (path != KernelPath.Scalar && n >= Vector<float>.Count)
        {
            var a = new Vector<float>(-1f);
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
            {
                var u = Vector.Abs(Vector.LoadUnsafe(ref x, (nuint)i));
                a = Vector.ConditionalSelect(Vector.GreaterThan(u, a), u, a);
            }
            for (int k = 0; k < Vector<float>.Count; k++)
                largest = MathF.Max(largest, a[k]);
        }
        for (; i < n; i++)
        {
            float value = MathF.Abs(Unsafe.Add(ref x, i));
            if (value > largest)
                largest = value;
        }
        return largest;
    }

    /// <summary>Largest x, sign counting; NaN is passed over.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    /// <returns>The value; minus infinity when there is no sample that is a number.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float LargestSigned(ReadOnlySpan<float> samples, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        float largest = float.NegativeInfinity;
        int i = 0;
        if (path == KernelPath.Wide && n >= 16)
        {
            var a = Vector512.Create(float.NegativeInfinity);
            var b = a;
            for (; i + 32 <= n; i += 32)
            {
                var u = Vector512.LoadUnsafe(ref x, (nuint)i);
                var v = Vector512.LoadUnsafe(ref x, (nuint)i + 16);
                a = Vector512.ConditionalSelect(Vector512.GreaterThan(u, a), u, a);
                b = Vector512.ConditionalSelect(Vector512.GreaterThan(v, b), v, b);
            }
            if (i + 16 <= n)
            {
                var u = Vector512.LoadUnsafe(ref x, (nuint)i);
                a = Vector512.ConditionalSelect(Vector512.GreaterThan(u, a), u, a);
            }
            var w = Vector512.LoadUnsafe(ref x, (nuint)n - 16);
            b = Vector512.ConditionalSelect(Vector512.GreaterThan(w, b), w, b);
            return Across(Vector512.Max(a, b));
        }
        if (path != KernelPath.Scalar && n >= Vector<float>.Count)
        {
            var a = new Vector<float>(float.NegativeInfinity);
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
            {
                var u = Vector.LoadUnsafe(ref x, (nuint)i);
                a = Vector.ConditionalSelect(Vector.GreaterThan(u, a), u, a);
            }
            for (int k = 0; k < Vector<float>.Count; k++)
                largest = MathF.Max(largest, a[k]);
        }
        for (; i < n; i++)
        {
            float value = Unsafe.Add(ref x, i);
            if (value > largest)
                largest = value;
        }
        return largest;
    }

    /// <summary>Whether every sample is a finite number.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    public static bool AllFinite(ReadOnlySpan<float> samples, KernelPath path) =>
        float.IsFinite(LargestOrNotFinite(samples, path));

    /// <summary>Largest <c>|x|</c>, or NaN or infinity when there is one among the samples.</summary>
    /// <param name="samples">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    /// <returns>The magnitude; 0 when there is no sample.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float LargestOrNotFinite(ReadOnlySpan<float> samples, KernelPath path)
    {
        // Magnitudes order like their bits, infinity above all numbers and NaN above infinity: one integer maximum sees everything.
        ref int x = ref Unsafe.As<float, int>(ref MemoryMarshal.GetReference(samples));
        const int Bits = 0x7FFFFFFF;
        int n = samples.Length;
        int i = 0;
        int all = 0;
        if (path == KernelPath.Wide && n >= 16)
        {
            var mask = Vector512.Create(Bits);
            var a = Vector512.LoadUnsafe(ref x, (nuint)n - 16) & mask;
            var b = Vector512<int>.Zero;
            for (; i + 32 <= n; i += 32)
            {
                a = Vector512.Max(a, Vector512.LoadUnsafe(ref x, (nuint)i) & mask);
                b = Vector512.Max(b, Vector512.LoadUnsafe(ref x, (nuint)i + 16) & mask);
            }
            if (i + 16 <= n)
                b = Vector512.Max(b, Vector512.LoadUnsafe(ref x, (nuint)i) & mask);
            a = Vector512.Max(a, b);
            var c = Vector256.Max(a.GetLower(), a.GetUpper());
            var d = Vector128.Max(c.GetLower(), c.GetUpper());
            d = Vector128.Max(d, Vector128.Shuffle(d, Vector128.Create(2, 3, 0, 1)));
            return BitConverter.Int32BitsToSingle(Math.Max(d[0], d[1]));
        }
        if (path != KernelPath.Scalar && n >= Vector<int>.Count)
        {
            var mask = new Vector<int>(Bits);
            var a = Vector<int>.Zero;
            for (; i + Vector<int>.Count <= n; i += Vector<int>.Count)
                a = Vector.Max(a, Vector.LoadUnsafe(ref x, (nuint)i) & mask);
            for (int k = 0; k < Vector<int>.Count; k++)
                all = Math.Max(all, a[k]);
        }
        for (; i < n; i++)
            all = Math.Max(all, Unsafe.Add(ref x, i) & Bits);
        return BitConverter.Int32BitsToSingle(all);
    }

    /// <summary>Square root in place, correctly rounded.</summary>
    /// <param name="values">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void SquareRoot(Span<float> values, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(values);
        int n = values.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            for (; i + 16 <= n; i += 16)
                Vector512.Sqrt(Vector512.LoadUnsafe(ref x, (nuint)i)).StoreUnsafe(ref x, (nuint)i);
        }
        else if (path == KernelPath.Portable)
        {
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
                Vector.SquareRoot(Vector.LoadUnsafe(ref x, (nuint)i)).StoreUnsafe(ref x, (nuint)i);
        }
        for (; i < n; i++)
            Unsafe.Add(ref x, i) = MathF.Sqrt(Unsafe.Add(ref x, i));
    }

    /// <summary>Magnitude in place.</summary>
    /// <param name="values">Shape [sample].</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Rectify(Span<float> values, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(values);
        int n = values.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            for (; i + 16 <= n; i += 16)
                Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i)).StoreUnsafe(ref x, (nuint)i);
        }
        else if (path == KernelPath.Portable)
        {
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
                Vector.Abs(Vector.LoadUnsafe(ref x, (nuint)i)).StoreUnsafe(ref x, (nuint)i);
        }
        for (; i < n; i++)
            Unsafe.Add(ref x, i) = MathF.Abs(Unsafe.Add(ref x, i));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static float Across(Vector512<float> v)
    {
        var a = Vector256.Max(v.GetLower(), v.GetUpper());
        var b = Vector128.Max(a.GetLower(), a.GetUpper());
        b = Vector128.Max(b, Vector128.Shuffle(b, Vector128.Create(2, 3, 0, 1)));
        return MathF.Max(b[0], b[1]);
    }
}
