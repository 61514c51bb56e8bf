using System.Runtime.Intrinsics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// Sums a spectrum over a window of samples, <c>x[n] = Re sum over m of Y_m exp(-i omega_m n dt)</c>, 16 samples at a time by rotation.
/// Vector and scalar form give the same bits: same order, fused multiply-adds in both.
/// </summary>
internal static class SynthesisKernel
{
    /// <summary>Samples that are turned together.</summary>
    public const int Lanes = 16;

    /// <summary>Floats of <c>rotations</c> for one frequency: cosines and sines of the lanes, and the turn of a whole block.</summary>
    public const int RotationFloats = 2 * Lanes + 2;

    /// <summary>Tables of one sample interval.</summary>
    /// <param name="hertz">Frequencies.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <returns>Shape [frequency, <see cref="RotationFloats"/>].</returns>
    public static float[] Rotations(ReadOnlySpan<double> hertz, double sampleRateHz)
    {
        var table = new float[hertz.Length * RotationFloats];
        for (int m = 0; m < hertz.Length; m++)
        {
            Span<float> row = table.AsSpan(m * RotationFloats, RotationFloats);
            for (int lane = 0; lane <= Lanes; lane++)
            {
                double turns = hertz[m] * lane / sampleRateHz;
                (double sine, double cosine) = Math.SinCos(2 * Math.PI * (turns - Math.Round(turns)));
                int c = lane < Lanes ? lane : 2 * Lanes;
                int s = lane < Lanes ? Lanes + lane : 2 * Lanes + 1;
                (row[c], row[s]) = ((float)cosine, (float)sine);
            }
        }
        return table;
    }

    /// <summary>Sums with vectors.</summary>
    /// <param name="real">Shape [term]: real part at the first sample.</param>
    /// <param name="imaginary">Shape [term]: imaginary part at the first sample.</param>
    /// <param name="rotations">From <see cref="Rotations"/>, for the frequencies of the whole grid.</param>
    /// <param name="stride">Frequencies of the grid from one term to the next.</param>
    /// <param name="sums">Shape [sample], a multiple of 16 long; overwritten.</param>
    public static void Sum(
        ReadOnlySpan<float> real,
        ReadOnlySpan<float> imaginary,
        ReadOnlySpan<float> rotations,
        int stride,
        Span<float> sums
    )
    {
        sums.Clear();
        for (int m = 0; m < real.Length; m++)
        {
            ReadOnlySpan<float> row = rotations.Slice(m * stride * RotationFloats, RotationFloats);
            Vector512<float> laneCosine = Vector512.Create(row);
            Vector512<float> laneSine = Vector512.Create(row[Lanes..]);
            Vector512<float> turnCosine = Vector512.Create(row[2 * Lanes]);
            Vector512<float> turnSine = Vector512.Create(row[2 * Lanes + 1]);
            Vector512<float> re = Vector512.Create(real[m]);
            Vector512<float> im = Vector512.Create(imaginary[m]);
            (re, im) = Turn(re, im, laneCosine, laneSine);
            for (int n = 0; n < sums.Length; n += Lanes)
            {
                Span<float> block = sums.Slice(n, Lanes);
                (Vector512.Create<float>(block) + re).CopyTo(block);
                (re, im) = Turn(re, im, turnCosine, turnSine);
            }
        }
    }

    /// <summary>The same sum one sample at a time: the reference.</summary>
    /// <param name="real">Shape [term]: real part at the first sample.</param>
    /// <param name="imaginary">Shape [term]: imaginary part at the first sample.</param>
    /// <param name="rotations">From <see cref="Rotations"/>, for the frequencies of the whole grid.</param>
    /// <param name="stride">Frequencies of the grid from one term to the next.</param>
    /// <param name="sums">Shape [sample], any length; overwritten.</param>
    public static void SumScalar(
        ReadOnlySpan<float> real,
        ReadOnlySpan<float> imaginary,
        ReadOnlySpan<float> rotations,
        int stride,
        Span<float> sums
    )
    {
        sums.Clear();
        for (int m = 0; m < real.Length; m++)
        {
            ReadOnlySpan<float> row = rotations.Slice(m * stride * RotationFloats, RotationFloats);
            for (int lane = 0; lane < Lanes; lane++)
            {
                (float re, float im) = Turn(real[m], imaginary[m], row[lane], row[Lanes + lane]);
                for (int n = lane; n < sums.Length; n += Lanes)
                {
                    sums[n] += re;
                    (re, im) = Turn(re, im, row[2 * Lanes], row[2 * Lanes + 1]);
                }
            }
        }
    }

    private static (Vector512<float> Real, Vector512<float> Imaginary) Turn(
        Vector512<float> re,
        Vector512<float> im,
        Vector512<float> cosine,
        Vector512<float> sine
    ) =>
        (
            Vector512.FusedMultiplyAdd(im, sine, re * cosine),
            Vector512.FusedMultiplyAdd(im, cosine, Vector512<float>.Zero - re * sine)
        );

    private static (float Real, float Imaginary) Turn(float re, float im, float cosine, float sine) =>
        (MathF.FusedMultiplyAdd(im, sine, re * cosine), MathF.FusedMultiplyAdd(im, cosine, 0f - re * sine));
}
