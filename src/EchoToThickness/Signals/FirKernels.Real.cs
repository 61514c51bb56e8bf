using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

internal static partial class FirKernels
{
    /// <summary>Real taps on consecutive samples: <c>y[i] = sum over m of c[m] x[i + m]</c>.</summary>
    /// <param name="x">Sample that output 0 meets with the first tap; count + taps - 1 samples are read.</param>
    /// <param name="taps">Shape [tap]: c (reversed taps for a convolution, plain for a correlation).</param>
    /// <param name="y">Shape [count].</param>
    /// <param name="count">Outputs.</param>
    /// <param name="path">Implementation.</param>
    internal static void Real(ref float x, ReadOnlySpan<float> taps, ref float y, int count, KernelPath path)
    {
        ref float t = ref MemoryMarshal.GetReference(taps);
        if (path == KernelPath.Wide && count >= Vector512<float>.Count)
            RealWide(ref x, ref t, taps.Length, ref y, count);
        else if (path != KernelPath.Scalar && count >= Vector<float>.Count)
            RealPortable(ref x, ref t, taps.Length, ref y, count);
        else
            RealScalar(ref x, ref t, taps.Length, ref y, count);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void RealScalar(ref float x, ref float taps, int tapCount, ref float y, int count)
    {
        for (int i = 0; i < count; i++)
        {
            ref float b = ref Unsafe.Add(ref x, i);
            float even = 0;
            float odd = 0;
            int m = 0;
            for (; m + 1 < tapCount; m += 2)
            {
                even = MathF.FusedMultiplyAdd(Unsafe.Add(ref b, m), Unsafe.Add(ref taps, m), even);
                odd = MathF.FusedMultiplyAdd(Unsafe.Add(ref b, m + 1), Unsafe.Add(ref taps, m + 1), odd);
            }
            if (m < tapCount)
                even = MathF.FusedMultiplyAdd(Unsafe.Add(ref b, m), Unsafe.Add(ref taps, m), even);
            Unsafe.Add(ref y, i) = even + odd;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void RealPortable(ref float x, ref float taps, int tapCount, ref float y, int count)
    {
        int width = Vector<float>.Count;
        int i = 0;
        for (; i + 4 * width <= count; i += 4 * width)
        {
            ref float b = ref Unsafe.Add(ref x, i);
            var e0 = Vector<float>.Zero;
            Vector<float> e1 = e0,
                e2 = e0,
                e3 = e0,
                o0 = e0,
                o1 = e0,
                o2 = e0,
                o3 = e0;
            int m = 0;
            for (; m + 1 < tapCount; m += 2)
            {
                ref float p = ref Unsafe.Add(ref b, m);
                var c = new Vector<float>(Unsafe.Add(ref taps, m));
                e0 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p), c, e0);
                e1 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)width), c, e1);
                e2 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)(2 * width)), c, e2);
                e3 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)(3 * width)), c, e3);
                p = ref Unsafe.Add(ref p, 1);
                c = new Vector<float>(Unsafe.Add(ref taps, m + 1));
                o0 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p), c, o0);
                o1 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)width), c, o1);
                o2 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)(2 * width)), c, o2);
                o3 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)(3 * width)), c, o3);
            }
            if (m < tapCount)
            {
                ref float p = ref Unsafe.Add(ref b, m);
                var c = new Vector<float>(Unsafe.Add(ref taps, m));
                e0 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p), c, e0);
                e1 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)width), c, e1);
                e2 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)(2 * width)), c, e2);
                e3 = Vector.FusedMultiplyAdd(Vector.LoadUnsafe(ref p, (nuint)(3 * width)), c, e3);
            }
            (e0 + o0).StoreUnsafe(ref y, (nuint)i);
            (e1 + o1).StoreUnsafe(ref y, (nuint)(i + width));
            (e2 + o2).StoreUnsafe(ref y, (nuint)(i + 2 * width));
            (e3 + o3).StoreUnsafe(ref y, (nuint)(i + 3 * width));
        }
        while (i < count)
        {
            i = Math.Min(i, count - width);
            ref float b = ref Unsafe.Add(ref x, i);
            var even = Vector<float>.Zero;
            var odd = even;
            int m = 0;
            for (; m + 1 < tapCount; m += 2)
            {
                even = Vector.FusedMultiplyAdd(
                    Vector.LoadUnsafe(ref b, (nuint)m),
                    new Vector<float>(Unsafe.Add(ref taps, m)),
                    even
                );
                odd = Vector.FusedMultiplyAdd(
                    Vector.LoadUnsafe(ref b, (nuint)(m + 1)),
                    new Vector<float>(Unsafe.Add(ref taps, m + 1)),
                    odd
                );
            }
            if (m < tapCount)
                even = Vector.FusedMultiplyAdd(
                    Vector.LoadUnsafe(ref b, (nuint)m),
                    new Vector<float>(Unsafe.Add(ref taps, m)),
                    even
                );
            (even + odd).StoreUnsafe(ref y, (nuint)i);
            i += width;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void RealWide(ref float x, ref float taps, int tapCount, ref float y, int count)
    {
        int i = 0;
        for (; i + 64 <= count; i += 64)
        {
            ref float b = ref Unsafe.Add(ref x, i);
            var e0 = Vector512<float>.Zero;
            Vector512<float> e1 = e0,
                e2 = e0,
                e3 = e0,
                o0 = e0,
                o1 = e0,
                o2 = e0,
                o3 = e0;
            int m = 0;
            for (; m + 1 < tapCount; m += 2)
            {
                ref float p = ref Unsafe.Add(ref b, m);
                var c = Vector512.Create(Unsafe.Add(ref taps, m));
                e0 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p), c, e0);
                e1 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 16), c, e1);
                e2 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 32), c, e2);
                e3 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 48), c, e3);
                p = ref Unsafe.Add(ref p, 1);
                c = Vector512.Create(Unsafe.Add(ref taps, m + 1));
                o0 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p), c, o0);
                o1 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 16), c, o1);
                o2 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 32), c, o2);
                o3 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 48), c, o3);
            }
            if (m < tapCount)
            {
                ref float p = ref Unsafe.Add(ref b, m);
                var c = Vector512.Create(Unsafe.Add(ref taps, m));
                e0 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p), c, e0);
                e1 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 16), c, e1);
                e2 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 32), c, e2);
                e3 = Vector512.FusedMultiplyAdd(Vector512.LoadUnsafe(ref p, 48), c, e3);
            }
            (e0 + o0).StoreUnsafe(ref y, (nuint)i);
            (e1 + o1).StoreUnsafe(ref y, (nuint)(i + 16));
            (e2 + o2).StoreUnsafe(ref y, (nuint)(i + 32));
            (e3 + o3).StoreUnsafe(ref y, (nuint)(i + 48));
        }
        while (i < count)
        {
            i = Math.Min(i, count - 16);
            ref float b = ref Unsafe.Add(ref x, i);
            var even = Vector512<float>.Zero;
            var odd = even;
            int m = 0;
            for (; m + 1 < tapCount; m += 2)
            {
                even = Vector512.FusedMultiplyAdd(
                    Vector512.LoadUnsafe(ref b, (nuint)m),
                    Vector512.Create(Unsafe.Add(ref taps, m)),
                    even
                );
                odd = Vector512.FusedMultiplyAdd(
                    Vector512.LoadUnsafe(ref b, (nuint)(m + 1)),
                    Vector512.Create(Unsafe.Add(ref taps, m + 1)),
                    odd
                );
            }
            if (m < tapCount)
                even = Vector512.FusedMultiplyAdd(
                    Vector512.LoadUnsafe(ref b, (nuint)m),
                    Vector512.Create(Unsafe.Add(ref taps, m)),
                    even
                );
            (even + odd).StoreUnsafe(ref y, (nuint)i);
            i += 16;
        }
    }
}
