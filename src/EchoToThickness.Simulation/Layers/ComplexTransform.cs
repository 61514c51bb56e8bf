namespace EchoToThickness.Simulation.Layers;

/// <summary>
/// Discrete Fourier transform of a power-of-two length by decimation in time (Cooley and Tukey, 1965), in place.
/// Forward: <c>X[k] = sum of x[n] exp(-2 pi i k n / N)</c>, so that a delay tau multiplies the spectrum by <c>exp(-2 pi i f tau)</c>;
/// inverse: with the opposite sign and 1/N.
/// </summary>
/// <remarks>Immutable, so one object may serve all threads. Rounding: about 1e-16 times log2 N of the largest value.</remarks>
public sealed class ComplexTransform
{
    private readonly double[] _cosine;
    private readonly double[] _sine;

    /// <summary>Prepares the factors.</summary>
    /// <param name="length">A power of two, at least 2.</param>
    public ComplexTransform(int length)
    {
        if (length < 2 || (length & (length - 1)) != 0)
            throw new ArgumentException($"The length {length} is no power of two of at least 2.", nameof(length));
        Length = length;
        _cosine = new double[length / 2];
        _sine = new double[length / 2];
        for (int k = 0; k < _cosine.Length; k++)
            (_sine[k], _cosine[k]) = Math.SinCos(-2 * Math.PI * k / length);
    }

    /// <summary>Length of the transform.</summary>
    public int Length { get; }

    /// <summary>Transforms forward.</summary>
    /// <param name="real">Shape [length]; changed in place.</param>
    /// <param name="imaginary">Shape [length]; changed in place.</param>
    public void Forward(Span<double> real, Span<double> imaginary)
    {
        if (real.Length != Length || imaginary.Length != Length)
            throw new ArgumentException($"Both parts must have {Length} values.", nameof(real));
        Reorder(real, imaginary);
        for (int half = 1; half < Length; half *= 2)
        {
            int stride = Length / (2 * half);
            for (int block = 0; block < Length; block += 2 * half)
            {
                for (int k = 0; k < half; k++)
                {
                    (double c, double s) = (_cosine[k * stride], _sine[k * stride]);
                    int low = block + k;
                    int high = low + half;
                    double re = real[high] * c - imaginary[high] * s;
                    double im = real[high] * s + imaginary[high] * c;
                    real[high] = real[low] - re;
                    imaginary[high] = imaginary[low] - im;
                    real[low] += re;
                    imaginary[low] += im;
                }
            }
        }
    }

    /// <summary>Transforms back.</summary>
    /// <param name="real">Shape [length]; changed in place.</param>
    /// <param name="imaginary">Shape [length]; changed in place.</param>
    public void Inverse(Span<double> real, Span<double> imaginary)
    {
        // With real and imaginary parts exchanged, the forward sum is the inverse one.
        Forward(imaginary, real);
        double scale = 1.0 / Length;
        for (int i = 0; i < real.Length; i++)
        {
            real[i] *= scale;
            imaginary[i] *= scale;
        }
    }

    /// <summary>The smallest power of two that is at least a length.</summary>
    /// <param name="length">At least 1.</param>
    public static int LengthFor(long length)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(length);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(length, 1L << 26);
        int power = 2;
        while (power < length)
            power *= 2;
        return power;
    }

    private static void Reorder(Span<double> real, Span<double> imaginary)
    {
        int length = real.Length;
        for (int i = 1, j = 0; i < length; i++)
        {
            int bit = length >> 1;
            for (; (j & bit) != 0; bit >>= 1)
                j ^= bit;
            j ^= bit;
            if (i >= j)
                continue;
            (real[i], real[j]) = (real[j], real[i]);
            (imaginary[i], imaginary[j]) = (imaginary[j], imaginary[i]);
        }
    }
}
