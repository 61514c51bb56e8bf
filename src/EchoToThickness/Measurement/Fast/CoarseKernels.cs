using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Signals;

namespace EchoToThickness.Measurement.Fast;

/// <summary>Inner loop of the search at every 4th sample.</summary>
internal static class CoarseKernels
{
    /// <summary>
    /// First interval j between outputs j and j + 1 that passes a threshold: the larger of the two quarter points, or the middle, of the
    /// squares' chord.
    /// </summary>
    /// <param name="squared">Shape [output]: squared envelope.</param>
    /// <param name="from">First interval.</param>
    /// <param name="end">One past the last interval; output <paramref name="end"/> is read.</param>
    /// <param name="side">Threshold at a quarter and three quarters.</param>
    /// <param name="middle">Threshold in the middle.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>The interval; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int FirstPossible(
        ReadOnlySpan<float> squared,
        int from,
        int end,
        float side,
        float middle,
        KernelPath path
    )
    {
        ref float c = ref System.Runtime.InteropServices.MemoryMarshal.GetReference(squared);
        if (from < 0 || end >= squared.Length)
            throw new ArgumentOutOfRangeException(nameof(end), end, "The intervals leave the outputs.");
        int j = from;
        if (path == KernelPath.Wide)
        {
            var s = Vector512.Create(side);
            var m = Vector512.Create(middle);
            var half = Vector512.Create(0.5f);
            var quarter = Vector512.Create(0.25f);
            for (; j + 16 <= end; j += 16)
            {
                var a = Vector512.LoadUnsafe(ref c, (nuint)j);
                var b = Vector512.LoadUnsafe(ref c, (nuint)j + 1);
                var mean = (a + b) * half;
                var spread = Vector512.Abs(a - b);
                ulong pass = (
                    Vector512.GreaterThanOrEqual(mean, m) | Vector512.GreaterThanOrEqual(mean + spread * quarter, s)
                ).ExtractMostSignificantBits();
                if (pass != 0)
                    return j + BitOperations.TrailingZeroCount(pass);
            }
        }
        else if (path == KernelPath.Portable)
        {
            var s = new Vector<float>(side);
            var m = new Vector<float>(middle);
            var half = new Vector<float>(0.5f);
            var quarter = new Vector<float>(0.25f);
            for (; j + Vector<float>.Count <= end; j += Vector<float>.Count)
            {
                var a = Vector.LoadUnsafe(ref c, (nuint)j);
                var b = Vector.LoadUnsafe(ref c, (nuint)(j + 1));
                var mean = (a + b) * half;
                var spread = Vector.Abs(a - b);
                Vector<int> pass =
                    Vector.GreaterThanOrEqual(mean, m) | Vector.GreaterThanOrEqual(mean + spread * quarter, s);
                if (pass != Vector<int>.Zero)
                    break;
            }
        }
        for (; j < end; j++)
        {
            float a = Unsafe.Add(ref c, j);
            float b = Unsafe.Add(ref c, j + 1);
            float mean = (a + b) * 0.5f;
            float spread = MathF.Abs(a - b);
            if (mean >= middle || mean + spread * 0.25f >= side)
                return j;
        }
        return -1;
    }

    /// <summary>Last value at or over a threshold.</summary>
    /// <param name="values">Shape [value]; no NaN.</param>
    /// <param name="threshold">Threshold.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int LastAtLeast(ReadOnlySpan<float> values, float threshold, KernelPath path)
    {
        ref float x = ref System.Runtime.InteropServices.MemoryMarshal.GetReference(values);
        int end = values.Length;
        if (path == KernelPath.Wide)
        {
            var limit = Vector512.Create(threshold);
            for (; end >= 16; end -= 16)
            {
                ulong mask = Vector512
                    .GreaterThanOrEqual(Vector512.LoadUnsafe(ref x, (nuint)end - 16), limit)
                    .ExtractMostSignificantBits();
                if (mask != 0)
                    return end - 16 + BitOperations.Log2(mask);
            }
        }
        else if (path == KernelPath.Portable)
        {
            var limit = new Vector<float>(threshold);
            for (; end >= Vector<float>.Count; end -= Vector<float>.Count)
            {
                if (Vector.GreaterThanOrEqualAny(Vector.LoadUnsafe(ref x, (nuint)(end - Vector<float>.Count)), limit))
                    break;
            }
        }
        while (--end >= 0)
        {
            if (Unsafe.Add(ref x, end) >= threshold)
                return end;
        }
        return -1;
    }
}
