using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

internal static partial class FirKernels
{
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide(
        ref float x,
        ref int offsets,
        ref float taps,
        int tapCount,
        ref float real,
        ref float imaginary,
        int count,
        bool pair
    )
    {
        const int Width = 16;
        int i = 0;
        while (count - i >= 4 * Width)
        {
            ComplexWide4(ref Unsafe.Add(ref x, i), ref offsets, ref taps, tapCount, ref real, ref imaginary, i, pair);
            i += 4 * Width;
        }
        if (count - i >= 2 * Width)
        {
            ComplexWide2(ref Unsafe.Add(ref x, i), ref offsets, ref taps, tapCount, ref real, ref imaginary, i, pair);
            i += 2 * Width;
        }
        while (i < count)
        {
            // The last vector may overlap the one before: the same values are written twice.
            i = Math.Min(i, count - Width);
            ComplexWide1(ref Unsafe.Add(ref x, i), ref offsets, ref taps, tapCount, ref real, ref imaginary, i, pair);
            i += Width;
        }
    }

    // 64 outputs: 16 accumulators, 4 sample vectors and 2 taps fill 22 of 32 registers; each sample load feeds two multiply-adds.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide4(
        ref float b,
        ref int offsets,
        ref float taps,
        int tapCount,
        ref float real,
        ref float imaginary,
        int i,
        bool pair
    )
    {
        var r0 = Vector512<float>.Zero;
        Vector512<float> r1 = r0,
            r2 = r0,
            r3 = r0,
            m0 = r0,
            m1 = r0,
            m2 = r0,
            m3 = r0;
        Vector512<float> s0 = r0,
            s1 = r0,
            s2 = r0,
            s3 = r0,
            n0 = r0,
            n1 = r0,
            n2 = r0,
            n3 = r0;
        int m = 0;
        for (; m + 1 < tapCount; m += 2)
        {
            ref float t = ref Unsafe.Add(ref taps, 2 * m);
            ref float p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
            var c = Vector512.Create(t);
            var d = Vector512.Create(Unsafe.Add(ref t, 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            var x2 = Vector512.LoadUnsafe(ref p, 32);
            var x3 = Vector512.LoadUnsafe(ref p, 48);
            r0 = Vector512.FusedMultiplyAdd(x0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0, d, m0);
            r1 = Vector512.FusedMultiplyAdd(x1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1, d, m1);
            r2 = Vector512.FusedMultiplyAdd(x2, c, r2);
            m2 = Vector512.FusedMultiplyAdd(x2, d, m2);
            r3 = Vector512.FusedMultiplyAdd(x3, c, r3);
            m3 = Vector512.FusedMultiplyAdd(x3, d, m3);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m + 1));
            c = Vector512.Create(Unsafe.Add(ref t, 2));
            d = Vector512.Create(Unsafe.Add(ref t, 3));
            x0 = Vector512.LoadUnsafe(ref p);
            x1 = Vector512.LoadUnsafe(ref p, 16);
            x2 = Vector512.LoadUnsafe(ref p, 32);
            x3 = Vector512.LoadUnsafe(ref p, 48);
            s0 = Vector512.FusedMultiplyAdd(x0, c, s0);
            n0 = Vector512.FusedMultiplyAdd(x0, d, n0);
            s1 = Vector512.FusedMultiplyAdd(x1, c, s1);
            n1 = Vector512.FusedMultiplyAdd(x1, d, n1);
            s2 = Vector512.FusedMultiplyAdd(x2, c, s2);
            n2 = Vector512.FusedMultiplyAdd(x2, d, n2);
            s3 = Vector512.FusedMultiplyAdd(x3, c, s3);
            n3 = Vector512.FusedMultiplyAdd(x3, d, n3);
        }
        if (m < tapCount)
        {
            ref float t = ref Unsafe.Add(ref taps, 2 * m);
            ref float p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
            var c = Vector512.Create(t);
            var d = Vector512.Create(Unsafe.Add(ref t, 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            var x2 = Vector512.LoadUnsafe(ref p, 32);
            var x3 = Vector512.LoadUnsafe(ref p, 48);
            r0 = Vector512.FusedMultiplyAdd(x0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0, d, m0);
            r1 = Vector512.FusedMultiplyAdd(x1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1, d, m1);
            r2 = Vector512.FusedMultiplyAdd(x2, c, r2);
            m2 = Vector512.FusedMultiplyAdd(x2, d, m2);
            r3 = Vector512.FusedMultiplyAdd(x3, c, r3);
            m3 = Vector512.FusedMultiplyAdd(x3, d, m3);
        }
        StoreWide(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
        StoreWide(r1 + s1, m1 + n1, ref real, ref imaginary, i + 16, pair);
        StoreWide(r2 + s2, m2 + n2, ref real, ref imaginary, i + 32, pair);
        StoreWide(r3 + s3, m3 + n3, ref real, ref imaginary, i + 48, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide2(
        ref float b,
        ref int offsets,
        ref float taps,
        int tapCount,
        ref float real,
        ref float imaginary,
        int i,
        bool pair
    )
    {
        var r0 = Vector512<float>.Zero;
        Vector512<float> r1 = r0,
            m0 = r0,
            m1 = r0,
            s0 = r0,
            s1 = r0,
            n0 = r0,
            n1 = r0;
        int m = 0;
        for (; m + 1 < tapCount; m += 2)
        {
            ref float t = ref Unsafe.Add(ref taps, 2 * m);
            ref float p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
            var c = Vector512.Create(t);
            var d = Vector512.Create(Unsafe.Add(ref t, 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            r0 = Vector512.FusedMultiplyAdd(x0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0, d, m0);
            r1 = Vector512.FusedMultiplyAdd(x1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1, d, m1);
            p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m + 1));
            c = Vector512.Create(Unsafe.Add(ref t, 2));
            d = Vector512.Create(Unsafe.Add(ref t, 3));
            x0 = Vector512.LoadUnsafe(ref p);
            x1 = Vector512.LoadUnsafe(ref p, 16);
            s0 = Vector512.FusedMultiplyAdd(x0, c, s0);
            n0 = Vector512.FusedMultiplyAdd(x0, d, n0);
            s1 = Vector512.FusedMultiplyAdd(x1, c, s1);
            n1 = Vector512.FusedMultiplyAdd(x1, d, n1);
        }
        if (m < tapCount)
        {
            ref float t = ref Unsafe.Add(ref taps, 2 * m);
            ref float p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
            var c = Vector512.Create(t);
            var d = Vector512.Create(Unsafe.Add(ref t, 1));
            var x0 = Vector512.LoadUnsafe(ref p);
            var x1 = Vector512.LoadUnsafe(ref p, 16);
            r0 = Vector512.FusedMultiplyAdd(x0, c, r0);
            m0 = Vector512.FusedMultiplyAdd(x0, d, m0);
            r1 = Vector512.FusedMultiplyAdd(x1, c, r1);
            m1 = Vector512.FusedMultiplyAdd(x1, d, m1);
        }
        StoreWide(r0 + s0, m0 + n0, ref real, ref imaginary, i, pair);
        StoreWide(r1 + s1, m1 + n1, ref real, ref imaginary, i + 16, pair);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexWide1(
        ref float b,
        ref int offsets,
        ref float taps,
        int tapCount,
        ref float real,
        ref float imaginary,
        int i,
        bool pair
    )
    {
        var r0 = Vector512<float>.Zero;
        Vector512<float> m0 = r0,
            s0 = r0,
            n0 = r0;
        int m = 0;
        for (; m + 1 < tapCount; m += 2)
        {
            ref float t = ref Unsafe.Add(ref taps, 2 * m);
            var x0 = Vector512.LoadUnsafe(ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m)));
            var x1 = Vector512.LoadUnsafe(ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m + 1)));
            r0 = Vector512.FusedMultiplyAdd(x0, Vector512.Create(t), r0);
            m0 = Vector512.FusedMultiplyAdd(x0, Vector512.Create(Unsafe.Add(ref t, 1)), m0);
            s0 = Vector512.FusedMultiplyAdd(x1, Vector512.Create(Unsafe.Add(ref t, 2)), s0);
            n0 = Vector512.FusedMultiplyAdd(x1, Vector512.Create(Unsafe.Add(ref t, 3)), n0);
        }
        if (m < tapCount)
        {
            ref float t = ref Unsafe.Add(ref taps, 2 * m);
            var x0 = Vector512.LoadUnsafe(ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m)));
            r0 = Vector512.FusedMultiplyAdd(x0, Vector512.Create(t), r0);
            m0 = Vector512.FusedMultiplyAdd(x0, Vector512.Create(Unsafe.Add(ref t, 1)), m0);
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
