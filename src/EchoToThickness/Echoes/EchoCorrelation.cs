using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Echoes;

/// <summary>Short correlations of an analytic record with itself, <c>sum over i of conj(z[a + i]) z[b + i]</c>.</summary>
internal static class EchoCorrelation
{
    /// <summary>Complex correlation of two windows of equal length; the caller keeps both inside the record.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static (double Real, double Imaginary) Complex(
        ReadOnlySpan<float> real,
        ReadOnlySpan<float> imaginary,
        int first,
        int second,
        int count
    )
    {
        ReadOnlySpan<float> ar = real.Slice(first, count);
        ReadOnlySpan<float> ai = imaginary.Slice(first, count);
        ReadOnlySpan<float> br = real.Slice(second, count);
        ReadOnlySpan<float> bi = imaginary.Slice(second, count);
        // Eight lanes on every machine, summed in a fixed order: the same bits with any vector width.
        Vector256<float> sumReal = Vector256<float>.Zero;
        Vector256<float> sumImaginary = Vector256<float>.Zero;
        int i = 0;
        for (; i + 8 <= count; i += 8)
        {
            Vector256<float> x = Vector256.Create(ar.Slice(i, 8));
            Vector256<float> y = Vector256.Create(ai.Slice(i, 8));
            Vector256<float> u = Vector256.Create(br.Slice(i, 8));
            Vector256<float> v = Vector256.Create(bi.Slice(i, 8));
            sumReal += x * u + y * v;
            sumImaginary += x * v - y * u;
        }
        double re = 0;
        double im = 0;
        for (int lane = 0; lane < 8; lane++)
        {
            re += sumReal.GetElement(lane);
            im += sumImaginary.GetElement(lane);
        }
        for (; i < count; i++)
        {
            re += (double)ar[i] * br[i] + (double)ai[i] * bi[i];
            im += (double)ar[i] * bi[i] - (double)ai[i] * br[i];
        }
        return (re, im);
    }

    /// <summary>Energy of a window, <c>sum |z|^2</c>.</summary>
    public static double Energy(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, int first, int count)
    {
        double sum = 0;
        for (int i = first; i < first + count; i++)
            sum += (double)real[i] * real[i] + (double)imaginary[i] * imaginary[i];
        return sum;
    }
}
