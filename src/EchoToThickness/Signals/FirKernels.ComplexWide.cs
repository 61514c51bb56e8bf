using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

internal static partial class FirKernels
{
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide(
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
        int i = 0;
        for (; count - i >= 64; i += 64)
            ComplexWide4(ref Unsafe.Add(ref x, i), ref offsets, ref taps, length, ref real, ref imaginary, i, pair);
        if (count - i >= 32)
        {
            ComplexWide2(ref Unsafe.Add(ref x, i), ref offsets, ref taps, length, ref real, ref imaginary, i, pair);
            i += 32;
        }
        while (i < count)
        {
            // The last vector may overlap the one before: the same values are written twice.
            i = Math.Min(i, count - 16);
            ComplexWide1(ref Unsafe.Add(ref x, i), ref offsets, ref taps, length, ref real, ref imaginary, i, pair);
            i += 16;
        }
    }

    // 64 outputs: 16 accumulators, 2 samples and 2 taps at a time stay in registers.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide4(
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
        ref float p = ref Unsafe.Add(ref b, offsets);
        ref float q = ref p;
        var c = Vector512.Create(taps);
        var d = Vector512<float>.Zero;
        var r0 = Vector512.LoadUnsafe(ref p) * c;
        var r1 = Vector512.LoadUnsafe(ref p, 16) * c;
        var r2 = Vector512.LoadUnsafe(ref p, 32) * c;
        var r3 = Vector512.LoadUnsafe(ref p, 48) * c;
        var m0 = d;
        var s0 = d;
        var n0 = d;
        var m1 = d;
        var s1 = d;
        var n1 = d;
        var m2 = d;
        var s2 = d;
        var n2 = d;
        var m3 = d;
        var s3 = d;
        var n3 = d;
        nint k = 1;
        for (; k + 3 < length; k += 4)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = Vector512.Create(Unsafe.Add(ref taps, k));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var y0 = Vector512.LoadUnsafe(ref q);
            r0 = Vector512.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0 - y0, d, m0);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            var y1 = Vector512.LoadUnsafe(ref q, 16);
            r1 = Vector512.FusedMultiplyAdd(x1 + y1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1 - y1, d, m1);
            var x2 = Vector512.LoadUnsafe(ref p, 32);
            var y2 = Vector512.LoadUnsafe(ref q, 32);
            r2 = Vector512.FusedMultiplyAdd(x2 + y2, c, r2);
            m2 = Vector512.FusedMultiplyAdd(x2 - y2, d, m2);
            var x3 = Vector512.LoadUnsafe(ref p, 48);
            var y3 = Vector512.LoadUnsafe(ref q, 48);
            r3 = Vector512.FusedMultiplyAdd(x3 + y3, c, r3);
            m3 = Vector512.FusedMultiplyAdd(x3 - y3, d, m3);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 2));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 3));
            c = Vector512.Create(Unsafe.Add(ref taps, k + 2));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 3));
            x0 = Vector512.LoadUnsafe(ref p);
            y0 = Vector512.LoadUnsafe(ref q);
            s0 = Vector512.FusedMultiplyAdd(x0 + y0, c, s0);
            n0 = Vector512.FusedMultiplyAdd(x0 - y0, d, n0);
            x1 = Vector512.LoadUnsafe(ref p, 16);
            y1 = Vector512.LoadUnsafe(ref q, 16);
            s1 = Vector512.FusedMultiplyAdd(x1 + y1, c, s1);
            n1 = Vector512.FusedMultiplyAdd(x1 - y1, d, n1);
            x2 = Vector512.LoadUnsafe(ref p, 32);
            y2 = Vector512.LoadUnsafe(ref q, 32);
            s2 = Vector512.FusedMultiplyAdd(x2 + y2, c, s2);
            n2 = Vector512.FusedMultiplyAdd(x2 - y2, d, n2);
            x3 = Vector512.LoadUnsafe(ref p, 48);
            y3 = Vector512.LoadUnsafe(ref q, 48);
            s3 = Vector512.FusedMultiplyAdd(x3 + y3, c, s3);
            n3 = Vector512.FusedMultiplyAdd(x3 - y3, d, n3);
        }
        if (k < length)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = Vector512.Create(Unsafe.Add(ref taps, k));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var y0 = Vector512.LoadUnsafe(ref q);
            r0 = Vector512.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0 - y0, d, m0);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            var y1 = Vector512.LoadUnsafe(ref q, 16);
            r1 = Vector512.FusedMultiplyAdd(x1 + y1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1 - y1, d, m1);
            var x2 = Vector512.LoadUnsafe(ref p, 32);
            var y2 = Vector512.LoadUnsafe(ref q, 32);
            r2 = Vector512.FusedMultiplyAdd(x2 + y2, c, r2);
            m2 = Vector512.FusedMultiplyAdd(x2 - y2, d, m2);
            var x3 = Vector512.LoadUnsafe(ref p, 48);
            var y3 = Vector512.LoadUnsafe(ref q, 48);
            r3 = Vector512.FusedMultiplyAdd(x3 + y3, c, r3);
            m3 = Vector512.FusedMultiplyAdd(x3 - y3, d, m3);
        }
        StoreWide(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
        StoreWide(r1 + s1, m1 + n1, ref real, ref imaginary, i + 16, pair);
        StoreWide(r2 + s2, m2 + n2, ref real, ref imaginary, i + 32, pair);
        StoreWide(r3 + s3, m3 + n3, ref real, ref imaginary, i + 48, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide2(
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
        ref float p = ref Unsafe.Add(ref b, offsets);
        ref float q = ref p;
        var c = Vector512.Create(taps);
        var d = Vector512<float>.Zero;
        var r0 = Vector512.LoadUnsafe(ref p) * c;
        var r1 = Vector512.LoadUnsafe(ref p, 16) * c;
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
            c = Vector512.Create(Unsafe.Add(ref taps, k));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var y0 = Vector512.LoadUnsafe(ref q);
            r0 = Vector512.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0 - y0, d, m0);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            var y1 = Vector512.LoadUnsafe(ref q, 16);
            r1 = Vector512.FusedMultiplyAdd(x1 + y1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1 - y1, d, m1);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 2));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 3));
            c = Vector512.Create(Unsafe.Add(ref taps, k + 2));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 3));
            x0 = Vector512.LoadUnsafe(ref p);
            y0 = Vector512.LoadUnsafe(ref q);
            s0 = Vector512.FusedMultiplyAdd(x0 + y0, c, s0);
            n0 = Vector512.FusedMultiplyAdd(x0 - y0, d, n0);
            x1 = Vector512.LoadUnsafe(ref p, 16);
            y1 = Vector512.LoadUnsafe(ref q, 16);
            s1 = Vector512.FusedMultiplyAdd(x1 + y1, c, s1);
            n1 = Vector512.FusedMultiplyAdd(x1 - y1, d, n1);
        }
        if (k < length)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = Vector512.Create(Unsafe.Add(ref taps, k));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var y0 = Vector512.LoadUnsafe(ref q);
            r0 = Vector512.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0 - y0, d, m0);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            var y1 = Vector512.LoadUnsafe(ref q, 16);
            r1 = Vector512.FusedMultiplyAdd(x1 + y1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1 - y1, d, m1);
        }
        StoreWide(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
        StoreWide(r1 + s1, m1 + n1, ref real, ref imaginary, i + 16, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide1(
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
        ref float p = ref Unsafe.Add(ref b, offsets);
        ref float q = ref p;
        var c = Vector512.Create(taps);
        var d = Vector512<float>.Zero;
        var r0 = Vector512.LoadUnsafe(ref p) * c;
        var m0 = d;
        var s0 = d;
        var n0 = d;
        nint k = 1;
        for (; k + 3 < length; k += 4)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = Vector512.Create(Unsafe.Add(ref taps, k));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var y0 = Vector512.LoadUnsafe(ref q);
            r0 = Vector512.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0 - y0, d, m0);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 2));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 3));
            c = Vector512.Create(Unsafe.Add(ref taps, k + 2));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 3));
            x0 = Vector512.LoadUnsafe(ref p);
            y0 = Vector512.LoadUnsafe(ref q);
            s0 = Vector512.FusedMultiplyAdd(x0 + y0, c, s0);
            n0 = Vector512.FusedMultiplyAdd(x0 - y0, d, n0);
        }
        if (k < length)
        {
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k));
            q = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, k + 1));
            c = Vector512.Create(Unsafe.Add(ref taps, k));
            d = Vector512.Create(Unsafe.Add(ref taps, k + 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var y0 = Vector512.LoadUnsafe(ref q);
            r0 = Vector512.FusedMultiplyAdd(x0 + y0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0 - y0, d, m0);
        }
        StoreWide(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void StoreWide(
        Vector512<float> re,
        Vector512<float> im,
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
            Vector512.FusedMultiplyAdd(re, re, im * im).StoreUnsafe(ref real, (nuint)i);
        }
    }
}
