namespace EchoToThickness.Statistics.Numerics;

/// <summary>Plain radix-2 transform of complex arrays, one thread, no garbage but its tables.</summary>
internal sealed class FastFourier
{
    private readonly int _count;
    private readonly double[] _cosine;
    private readonly double[] _sine;
    private readonly int[] _reversed;

    /// <param name="count">A power of two.</param>
    public FastFourier(int count)
    {
        if (count < 1 || (count & (count - 1)) != 0)
            throw new ArgumentOutOfRangeException(nameof(count), count, "Not a power of two.");
        _count = count;
        _cosine = new double[count / 2 + 1];
        _sine = new double[count / 2 + 1];
        for (int k = 0; k < count / 2; k++)
        {
            _cosine[k] = Math.Cos(2 * Math.PI * k / count);
            _sine[k] = Math.Sin(2 * Math.PI * k / count);
        }
        _reversed = new int[count];
        for (int k = 1; k < count; k++)
            _reversed[k] = (_reversed[k >> 1] >> 1) | ((k & 1) != 0 ? count >> 1 : 0);
    }

    /// <summary>Smallest power of two that is not below a number.</summary>
    public static int PowerOfTwo(int atLeast)
    {
        int power = 1;
        while (power < atLeast)
            power <<= 1;
        return power;
    }

    /// <summary>Transforms in place; the inverse is not divided by the count.</summary>
    public void Transform(Span<double> real, Span<double> imaginary, bool inverse)
    {
        for (int k = 0; k < _count; k++)
        {
            int other = _reversed[k];
            if (other > k)
            {
                (real[k], real[other]) = (real[other], real[k]);
                (imaginary[k], imaginary[other]) = (imaginary[other], imaginary[k]);
            }
        }
        for (int size = 2; size <= _count; size *= 2)
        {
            int half = size / 2;
            int stride = _count / size;
            for (int start = 0; start < _count; start += size)
            for (int k = 0; k < half; k++)
            {
                double c = _cosine[k * stride];
                double s = inverse ? _sine[k * stride] : -_sine[k * stride];
                int low = start + k;
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

    /// <summary>Two-dimensional transform in place.</summary>
    /// <param name="real">Shape [row, column].</param>
    /// <param name="imaginary">Shape [row, column].</param>
    /// <param name="rows">A power of two.</param>
    /// <param name="columns">A power of two.</param>
    /// <param name="inverse">Not divided by the count.</param>
    public static void Transform2(double[] real, double[] imaginary, int rows, int columns, bool inverse)
    {
        var along = new FastFourier(rows);
        var across = new FastFourier(columns);
        for (int i = 0; i < rows; i++)
            across.Transform(real.AsSpan(i * columns, columns), imaginary.AsSpan(i * columns, columns), inverse);
        var re = new double[rows];
        var im = new double[rows];
        for (int j = 0; j < columns; j++)
        {
            for (int i = 0; i < rows; i++)
            {
                re[i] = real[i * columns + j];
                im[i] = imaginary[i * columns + j];
            }
            along.Transform(re, im, inverse);
            for (int i = 0; i < rows; i++)
            {
                real[i * columns + j] = re[i];
                imaginary[i * columns + j] = im[i];
            }
        }
    }
}
