using System.Numerics;

namespace EchoToThickness.Signals;

/// <summary>
/// Discrete Fourier transform of one power-of-two length on split real and imaginary parts, in place:
/// <c>X[k] = sum over n of x[n] exp(-2 pi i k n / N)</c>. Immutable and thread-safe; no call allocates.
/// </summary>
/// <remarks>Radix 2, decimation in time, double precision. The same bits with every vector width: each lane does what the scalar loop does.</remarks>
public sealed class FourierTransform
{
    private readonly int[] _reversed;
    private readonly double[] _cosines;
    private readonly double[] _sines;

    /// <summary>Prepares tables.</summary>
    /// <param name="length">A power of two, 1 to 2^22.</param>
    /// <exception cref="ArgumentOutOfRangeException">Another length.</exception>
    public FourierTransform(int length)
    {
        if (length < 1 || length > 1 << 22 || !BitOperations.IsPow2(length))
            throw new ArgumentOutOfRangeException(
                nameof(length),
                length,
                "The length must be a power of two between 1 and 2^22."
            );
        Length = length;
        _reversed = new int[length];
        int bits = BitOperations.Log2((uint)length);
        for (int i = 0; i < length; i++)
            _reversed[i] = bits == 0 ? 0 : _reversed[i >> 1] >> 1 | (i & 1) << (bits - 1);
        // Twiddles of the stage with half length h lie at [h, 2h).
        _cosines = new double[Math.Max(2, length)];
        _sines = new double[Math.Max(2, length)];
        for (int half = 1; half < length; half *= 2)
        for (int k = 0; k < half; k++)
            (_sines[half + k], _cosines[half + k]) = Math.SinCos(-Math.PI * k / half);
    }

    /// <summary>Points of the transform.</summary>
    public int Length { get; }

    /// <summary>Smallest allowed length that holds a number of samples.</summary>
    /// <param name="samples">At least 1.</param>
    public static int LengthFor(int samples) => (int)BitOperations.RoundUpToPowerOf2((uint)Math.Max(1, samples));

    /// <summary>Forward transform, in place.</summary>
    /// <param name="real">Shape [length].</param>
    /// <param name="imaginary">Shape [length]; must not overlap the real part.</param>
    /// <exception cref="ArgumentException">Another length.</exception>
    public void Forward(Span<double> real, Span<double> imaginary)
    {
        if (real.Length != Length || imaginary.Length != Length)
            throw new ArgumentException(
                $"The transform has {Length} points, not {real.Length} and {imaginary.Length}.",
                nameof(real)
            );
        for (int i = 0; i < Length; i++)
        {
            int j = _reversed[i];
            if (j <= i)
                continue;
            (real[i], real[j]) = (real[j], real[i]);
            (imaginary[i], imaginary[j]) = (imaginary[j], imaginary[i]);
        }
        for (int half = 1; half < Length; half *= 2)
        {
            ReadOnlySpan<double> cosines = _cosines.AsSpan(half, half);
            ReadOnlySpan<double> sines = _sines.AsSpan(half, half);
            for (int block = 0; block < Length; block += 2 * half)
                Butterflies(
                    real.Slice(block, half),
                    imaginary.Slice(block, half),
                    real.Slice(block + half, half),
                    imaginary.Slice(block + half, half),
                    cosines,
                    sines
                );
        }
    }

    /// <summary>Inverse transform, in place, divided by the length: undoes <see cref="Forward"/>.</summary>
    /// <param name="real">Shape [length].</param>
    /// <param name="imaginary">Shape [length].</param>
    public void Inverse(Span<double> real, Span<double> imaginary)
    {
        // Swapping the parts conjugates the kernel.
        Forward(imaginary, real);
        double scale = 1.0 / Length;
        for (int i = 0; i < Length; i++)
        {
            real[i] *= scale;
            imaginary[i] *= scale;
        }
    }

    private static void Butterflies(
        Span<double> lowReal,
        Span<double> lowImaginary,
        Span<double> highReal,
        Span<double> highImaginary,
        ReadOnlySpan<double> cosines,
        ReadOnlySpan<double> sines
    )
    {
        int i = 0;
        int width = Vector<double>.Count;
        for (; i + width <= cosines.Length; i += width)
        {
            var c = new Vector<double>(cosines[i..]);
            var s = new Vector<double>(sines[i..]);
            var hr = new Vector<double>(highReal[i..]);
            var hi = new Vector<double>(highImaginary[i..]);
            var lr = new Vector<double>(lowReal[i..]);
            var li = new Vector<double>(lowImaginary[i..]);
            Vector<double> r = hr * c - hi * s;
            Vector<double> m = hr * s + hi * c;
            (lr + r).CopyTo(lowReal[i..]);
            (li + m).CopyTo(lowImaginary[i..]);
            (lr - r).CopyTo(highReal[i..]);
            (li - m).CopyTo(highImaginary[i..]);
        }
        for (; i < cosines.Length; i++)
        {
            double r = highReal[i] * cosines[i] - highImaginary[i] * sines[i];
            double m = highReal[i] * sines[i] + highImaginary[i] * cosines[i];
            highReal[i] = lowReal[i] - r;
            highImaginary[i] = lowImaginary[i] - m;
            lowReal[i] += r;
            lowImaginary[i] += m;
        }
    }
}
