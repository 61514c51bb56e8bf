using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Echoes;

/// <summary>Loops over whole records.</summary>
internal static class RecordKernels
{
    /// <summary>Sixteen lanes summed in a fixed order: the same bits on every machine.</summary>
    /// <param name="values">Shape [sample], not empty.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float Mean(ReadOnlySpan<float> values)
    {
        Vector512<float> lanes = Vector512<float>.Zero;
        int i = 0;
        for (; i + 16 <= values.Length; i += 16)
            lanes += Vector512.Create(values.Slice(i, 16));
        double sum = 0;
        for (int lane = 0; lane < 16; lane++)
            sum += lanes.GetElement(lane);
        for (; i < values.Length; i++)
            sum += values[i];
        return (float)(sum / values.Length);
    }

    /// <summary>Modulus of a complex record.</summary>
    /// <param name="real">Shape [sample].</param>
    /// <param name="imaginary">Shape [sample].</param>
    /// <param name="modulus">Shape [sample]; takes the modulus.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Modulus(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, Span<float> modulus)
    {
        int i = 0;
        for (; i + 16 <= modulus.Length; i += 16)
        {
            Vector512<float> x = Vector512.Create(real.Slice(i, 16));
            Vector512<float> y = Vector512.Create(imaginary.Slice(i, 16));
            Vector512.Sqrt(x * x + y * y).CopyTo(modulus.Slice(i, 16));
        }
        for (; i < modulus.Length; i++)
            modulus[i] = MathF.Sqrt(real[i] * real[i] + imaginary[i] * imaginary[i]);
    }
}
