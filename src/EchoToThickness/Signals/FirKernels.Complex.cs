using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>
/// Inner loops of the FIR filters. Output i is <c>sum over m of c[m] x[i + offset[m]]</c>, c being the taps in reverse. Every path
/// sums the even m and the odd m apart, each in ascending order with fused multiply-adds, and adds the two at the end: the same bits.
/// </summary>
/// <remarks>
/// The offset table serves two layouts with one loop: 0, 1, 2, ... for consecutive samples, and the addresses inside a
/// <see cref="PhaseSplit"/> for outputs at every 4th sample. The caller guarantees that every address is inside the buffer.
/// </remarks>
internal static partial class FirKernels
{
    /// <summary>Complex taps. Writes squared magnitudes, or real and imaginary parts.</summary>
    /// <param name="x">Sample that output 0 meets at offset 0.</param>
    /// <param name="offsets">Shape [tap].</param>
    /// <param name="taps">Shape [tap, 2]: real and imaginary, reversed.</param>
    /// <param name="real">Shape [count]: squared magnitude, or real part.</param>
    /// <param name="imaginary">Shape [count]: imaginary part when <paramref name="pair"/>; else not touched.</param>
    /// <param name="count">Outputs.</param>
    /// <param name="pair">Real and imaginary parts instead of squared magnitudes.</param>
    /// <param name="path">Implementation.</param>
    internal static void Complex(
        ref float x,
        ReadOnlySpan<int> offsets,
        ReadOnlySpan<float> taps,
        ref float real,
        ref float imaginary,
        int count,
        bool pair,
        KernelPath path
    )
    {
        ref int o = ref System.Runtime.InteropServices.MemoryMarshal.GetReference(offsets);
        ref float t = ref System.Runtime.InteropServices.MemoryMarshal.GetReference(taps);
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
        ref int offsets,
        ref float taps,
        int tapCount,
        ref float real,
        ref float imaginary,
        int count,
        bool pair
    )
    {
        for (int i = 0; i < count; i++)
        {
            ref float b = ref Unsafe.Add(ref x, i);
            float re0 = 0;
            float re1 = 0;
            float im0 = 0;
            float im1 = 0;
            int m = 0;
            for (; m + 1 < tapCount; m += 2)
            {
                float s0 = Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
                float s1 = Unsafe.Add(ref b, Unsafe.Add(ref offsets, m + 1));
                re0 = MathF.FusedMultiplyAdd(s0, Unsafe.Add(ref taps, 2 * m), re0);
                im0 = MathF.FusedMultiplyAdd(s0, Unsafe.Add(ref taps, 2 * m + 1), im0);
                re1 = MathF.FusedMultiplyAdd(s1, Unsafe.Add(ref taps, 2 * m + 2), re1);
                im1 = MathF.FusedMultiplyAdd(s1, Unsafe.Add(ref taps, 2 * m + 3), im1);
            }
            if (m < tapCount)
            {
                float s0 = Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
                re0 = MathF.FusedMultiplyAdd(s0, Unsafe.Add(ref taps, 2 * m), re0);
                im0 = MathF.FusedMultiplyAdd(s0, Unsafe.Add(ref taps, 2 * m + 1), im0);
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
        ref int offsets,
        ref float taps,
        int tapCount,
        ref float real,
        ref float imaginary,
        int count,
        bool pair
    )
    {
        int width = Vector<float>.Count;
        int i = 0;
        while (true)
        {
            if (i + 2 * width <= count)
            {
                ref float b = ref Unsafe.Add(ref x, i);
                var re0 = Vector<float>.Zero;
                var re1 = re0;
                var im0 = re0;
                var im1 = re0;
                var qe0 = re0;
                var qe1 = re0;
                var qm0 = re0;
                var qm1 = re0;
                int m = 0;
                for (; m + 1 < tapCount; m += 2)
                {
                    ref float p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
                    ref float t = ref Unsafe.Add(ref taps, 2 * m);
                    var c = new Vector<float>(t);
                    var d = new Vector<float>(Unsafe.Add(ref t, 1));
                    var s = Vector.LoadUnsafe(ref p);
                    var u = Vector.LoadUnsafe(ref p, (nuint)width);
                    re0 = Vector.FusedMultiplyAdd(s, c, re0);
                    im0 = Vector.FusedMultiplyAdd(s, d, im0);
                    qe0 = Vector.FusedMultiplyAdd(u, c, qe0);
                    qm0 = Vector.FusedMultiplyAdd(u, d, qm0);
                    p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m + 1));
                    c = new Vector<float>(Unsafe.Add(ref t, 2));
                    d = new Vector<float>(Unsafe.Add(ref t, 3));
                    s = Vector.LoadUnsafe(ref p);
                    u = Vector.LoadUnsafe(ref p, (nuint)width);
                    re1 = Vector.FusedMultiplyAdd(s, c, re1);
                    im1 = Vector.FusedMultiplyAdd(s, d, im1);
                    qe1 = Vector.FusedMultiplyAdd(u, c, qe1);
                    qm1 = Vector.FusedMultiplyAdd(u, d, qm1);
                }
                if (m < tapCount)
                {
                    ref float p = ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m));
                    ref float t = ref Unsafe.Add(ref taps, 2 * m);
                    var c = new Vector<float>(t);
                    var d = new Vector<float>(Unsafe.Add(ref t, 1));
                    var s = Vector.LoadUnsafe(ref p);
                    var u = Vector.LoadUnsafe(ref p, (nuint)width);
                    re0 = Vector.FusedMultiplyAdd(s, c, re0);
                    im0 = Vector.FusedMultiplyAdd(s, d, im0);
                    qe0 = Vector.FusedMultiplyAdd(u, c, qe0);
                    qm0 = Vector.FusedMultiplyAdd(u, d, qm0);
                }
                StorePortable(re0 + re1, im0 + im1, ref real, ref imaginary, i, pair);
                StorePortable(qe0 + qe1, qm0 + qm1, ref real, ref imaginary, i + width, pair);
                i += 2 * width;
            }
            else
            {
                // The last vector may overlap the one before: the same values are written twice.
                if (i >= count)
                    return;
                i = Math.Min(i, count - width);
                ref float b = ref Unsafe.Add(ref x, i);
                var re0 = Vector<float>.Zero;
                var re1 = re0;
                var im0 = re0;
                var im1 = re0;
                int m = 0;
                for (; m + 1 < tapCount; m += 2)
                {
                    ref float t = ref Unsafe.Add(ref taps, 2 * m);
                    var s = Vector.LoadUnsafe(ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m)));
                    var u = Vector.LoadUnsafe(ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m + 1)));
                    re0 = Vector.FusedMultiplyAdd(s, new Vector<float>(t), re0);
                    im0 = Vector.FusedMultiplyAdd(s, new Vector<float>(Unsafe.Add(ref t, 1)), im0);
                    re1 = Vector.FusedMultiplyAdd(u, new Vector<float>(Unsafe.Add(ref t, 2)), re1);
                    im1 = Vector.FusedMultiplyAdd(u, new Vector<float>(Unsafe.Add(ref t, 3)), im1);
                }
                if (m < tapCount)
                {
                    ref float t = ref Unsafe.Add(ref taps, 2 * m);
                    var s = Vector.LoadUnsafe(ref Unsafe.Add(ref b, Unsafe.Add(ref offsets, m)));
                    re0 = Vector.FusedMultiplyAdd(s, new Vector<float>(t), re0);
                    im0 = Vector.FusedMultiplyAdd(s, new Vector<float>(Unsafe.Add(ref t, 1)), im0);
                }
                StorePortable(re0 + re1, im0 + im1, ref real, ref imaginary, i, pair);
                i += width;
            }
        }
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
