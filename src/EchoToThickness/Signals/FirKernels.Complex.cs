using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>
/// Inner loops of the FIR filters. Every path sums in the same order with fused multiply-adds: the same bits whatever the width.
/// </summary>
internal static partial class FirKernels
{
    /// <summary>
    /// Complex taps of linear phase, folded: with c the reversed taps, <c>c[T-1-m] = conj c[m]</c>, output i is
    /// <c>re: c[h] x[i+h] + sum over m &lt; h of Re c[m] (x[i+m] + x[i+T-1-m])</c>, <c>im: sum over m &lt; h of Im c[m] (x[i+m] - x[i+T-1-m])</c>,
    /// h = (T-1)/2: half the multiplications. Even and odd m are summed apart in ascending order and added at the end.
    /// </summary>
    /// <param name="x">Sample that output 0 meets at offset 0.</param>
    /// <param name="offsets">
    /// Shape [1 + 2 h]: offset of x[i + h], then for each m those of x[i + m] and x[i + T-1-m]. A table, so that one loop serves consecutive
    /// samples and the rows of a <see cref="PhaseSplit"/>. The caller guarantees that every address is inside the buffer.
    /// </param>
    /// <param name="taps">Shape [1 + 2 h]: Re c[h], then for each m Re c[m] and Im c[m].</param>
    /// <param name="real">Shape [count]: squared magnitude, or real part.</param>
    /// <param name="imaginary">Shape [count]: imaginary part when <paramref name="pair"/>; else not touched.</param>
    /// <param name="count">Outputs.</param>
    /// <param name="pair">Real and imaginary parts instead of squared magnitudes.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static void Complex(
        ref float x,
        ReadOnlySpan<nint> offsets,
        ReadOnlySpan<float> taps,
        ref float real,
        ref float imaginary,
        int count,
        bool pair,
        KernelPath path
    )
    {
        ref nint o = ref MemoryMarshal.GetReference(offsets);
        ref float t = ref MemoryMarshal.GetReference(taps);
        if (path == KernelPath.Wide && count >= Vector512<float>.Count)
            ComplexWide(ref x, ref o, ref t, offsets.Length, ref real, ref imaginary, count, pair);
        else if (path != KernelPath.Scalar && count >= Vector<float>.Count)
            ComplexPortable(ref x, ref o, ref t, offsets.Length, ref real, ref imaginary, count, pair);
        else
            ComplexScalar(ref x, ref o, ref t, offsets.Length, ref real, ref imaginary, count, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexScalar(
        ref float x,
        ref nint offsets,
        ref float taps,
        nint length,
        ref float real,
        ref float imaginary,
        int count,
        bool pair
    )
    {
        for (int i = 0; i < count; i++)
        {
            ref float b = ref Unsafe.Add(ref x, i);
            float re0 = Unsafe.Add(ref b, offsets) * taps;
            float re1 = 0;
            float im0 = 0;
            float im1 = 0;
            nint k = 1;
            for (; k + 3 < length; k += 4)
            {
                float p = Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
                float q = Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
                re0 = MathF.FusedMultiplyAdd(p + q, Unsafe.Add(ref taps, k), re0);
                im0 = MathF.FusedMultiplyAdd(p - q, Unsafe.Add(ref taps, k + 1), im0);
                p = Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 2));
                q = Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 3));
                re1 = MathF.FusedMultiplyAdd(p + q, Unsafe.Add(ref taps, k + 2), re1);
                im1 = MathF.FusedMultiplyAdd(p - q, Unsafe.Add(ref taps, k + 3), im1);
            }
            if (k < length)
            {
                float p = Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
                float q = Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
                re0 = MathF.FusedMultiplyAdd(p + q, Unsafe.Add(ref taps, k), re0);
                im0 = MathF.FusedMultiplyAdd(p - q, Unsafe.Add(ref taps, k + 1), im0);
            }
            float re = re0 + re1;
            float im = im0 + im1;
            if (pair)
            {
                Unsafe.Add(ref real, i) = re;
                Unsafe.Add(ref imaginary, i) = im;
            }
            else
            {
                Unsafe.Add(ref real, i) = MathF.FusedMultiplyAdd(re, re, im * im);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexPortable(
        ref float x,
        ref nint offsets,
        ref float taps,
        nint length,
        ref float real,
        ref float imaginary,
        int count,
        bool pair
    )
    {
        int width = Vector<float>.Count;
        int i = 0;
        for (; i + 2 * width <= count; i += 2 * width)
            ComplexPortable2(ref Unsafe.Add(ref x, i), ref offsets, ref taps, length, ref real, ref imaginary, i, pair);
        while (i < count)
        {
            // The last vector may overlap the one before: the same values are written twice.
            i = Math.Min(i, count - width);
            ComplexPortable1(ref Unsafe.Add(ref x, i), ref offsets, ref taps, length, ref real, ref imaginary, i, pair);
            i += width;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexPortable2(
        ref float b,
        ref nint offsets,
        ref float taps,
        nint length,
        ref float real,
        ref float imaginary,
        int i,
        bool pair
    )
    {
        int width = Vector<float>.Count;
        ref float p = ref Unsafe.Add(ref b, offsets);
        ref float q = ref p;
        var c = new Vector<float>(taps);
        var d = Vector<float>.Zero;
        var r0 = Vector.LoadUnsafe(ref p) * c;
        var r1 = Vector.LoadUnsafe(ref p, (nuint)width) * c;
        var m0 = d;
        var s0 = d;
        var n0 = d;
        var m1 = d;
        var s1 = d;
        var n1 = d;
        nint k = 1;
        for (; k + 3 < length; k += 4)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = new Vector<float>(Unsafe.Add(ref taps, k));
            d = new Vector<float>(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector.LoadUnsafe(ref p);
            var y0 = Vector.LoadUnsafe(ref q);
            r0 = Vector.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector.FusedMultiplyAdd(x0 - y0, d, m0);
            var x1 = Vector.LoadUnsafe(ref p, (nuint)width);
            var y1 = Vector.LoadUnsafe(ref q, (nuint)width);
            r1 = Vector.FusedMultiplyAdd(x1 + y1, c, r1);
            m1 = Vector.FusedMultiplyAdd(x1 - y1, d, m1);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 2));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 3));
            c = new Vector<float>(Unsafe.Add(ref taps, k + 2));
            d = new Vector<float>(Unsafe.Add(ref taps, k + 3));
            x0 = Vector.LoadUnsafe(ref p);
            y0 = Vector.LoadUnsafe(ref q);
            s0 = Vector.FusedMultiplyAdd(x0 + y0, c, s0);
            n0 = Vector.FusedMultiplyAdd(x0 - y0, d, n0);
            x1 = Vector.LoadUnsafe(ref p, (nuint)width);
            y1 = Vector.LoadUnsafe(ref q, (nuint)width);
            s1 = Vector.FusedMultiplyAdd(x1 + y1, c, s1);
            n1 = Vector.FusedMultiplyAdd(x1 - y1, d, n1);
        }
        if (k < length)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = new Vector<float>(Unsafe.Add(ref taps, k));
            d = new Vector<float>(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector.LoadUnsafe(ref p);
            var y0 = Vector.LoadUnsafe(ref q);
            r0 = Vector.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector.FusedMultiplyAdd(x0 - y0, d, m0);
            var x1 = Vector.LoadUnsafe(ref p, (nuint)width);
            var y1 = Vector.LoadUnsafe(ref q, (nuint)width);
            r1 = Vector.FusedMultiplyAdd(x1 + y1, c, r1);
            m1 = Vector.FusedMultiplyAdd(x1 - y1, d, m1);
        }
        StorePortable(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
        StorePortable(r1 + s1, m1 + n1, ref real, ref imaginary, i + width, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexPortable1(
        ref float b,
        ref nint offsets,
        ref float taps,
        nint length,
        ref float real,
        ref float imaginary,
        int i,
        bool pair
    )
    {
        int width = Vector<float>.Count;
        ref float p = ref Unsafe.Add(ref b, offsets);
        ref float q = ref p;
        var c = new Vector<float>(taps);
        var d = Vector<float>.Zero;
        var r0 = Vector.LoadUnsafe(ref p) * c;
        var m0 = d;
        var s0 = d;
        var n0 = d;
        nint k = 1;
        for (; k + 3 < length; k += 4)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = new Vector<float>(Unsafe.Add(ref taps, k));
            d = new Vector<float>(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector.LoadUnsafe(ref p);
            var y0 = Vector.LoadUnsafe(ref q);
            r0 = Vector.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector.FusedMultiplyAdd(x0 - y0, d, m0);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 2));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 3));
            c = new Vector<float>(Unsafe.Add(ref taps, k + 2));
            d = new Vector<float>(Unsafe.Add(ref taps, k + 3));
            x0 = Vector.LoadUnsafe(ref p);
            y0 = Vector.LoadUnsafe(ref q);
            s0 = Vector.FusedMultiplyAdd(x0 + y0, c, s0);
            n0 = Vector.FusedMultiplyAdd(x0 - y0, d, n0);
        }
        if (k < length)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = new Vector<float>(Unsafe.Add(ref taps, k));
            d = new Vector<float>(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector.LoadUnsafe(ref p);
            var y0 = Vector.LoadUnsafe(ref q);
            r0 = Vector.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector.FusedMultiplyAdd(x0 - y0, d, m0);
        }
        StorePortable(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void StorePortable(
        Vector<float> re,
        Vector<float> im,
        ref float real,
        ref float imaginary,
        int i,
        bool pair
    )
    {
        if (pair)
        {
            re.StoreUnsafe(ref real, (nuint)i);
            im.StoreUnsafe(ref imaginary, (nuint)i);
        }
        else
        {
            Vector.FusedMultiplyAdd(re, re, im * im).StoreUnsafe(ref real, (nuint)i);
        }
    }
}
