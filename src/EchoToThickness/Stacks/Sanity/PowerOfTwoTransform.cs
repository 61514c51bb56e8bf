namespace EchoToThickness.Stacks.Sanity;

/// <summary>Discrete Fourier transform of a power-of-two length by decimation in time (Cooley and Tukey, 1965), in place, unscaled.</summary>
internal sealed class PowerOfTwoTransform
{
    private readonly double[] _cosine;
    private readonly double[] _sine;

    /// <summary>Prepares the factors.</summary>
    /// <param name="length">A power of two, at least 2.</param>
    public PowerOfTwoTransform(int length)
    {
        _cosine = new double[length / 2];
        _sine = new double[length / 2];
        for (int k = 0; k < _cosine.Length; k++)
            (_sine[k], _cosine[k]) = Math.SinCos(-2 * Math.PI * k / length);
    }

    /// <summary>Transforms, <c>X[k] = sum of x[n] exp(-2 pi i k n / N)</c>.</summary>
    public void Forward(Span<double> real, Span<double> imaginary)
    {
        int length = 2 * _cosine.Length;
        real = real[..length];
        imaginary = imaginary[..length];
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
        for (int half = 1; half < length; half *= 2)
        {
            int stride = length / (2 * half);
            for (int block = 0; block < length; block += 2 * half)
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
}
