namespace EchoToThickness.Signals;

/// <summary>Deconvolution and cepstrum by the Fourier transform, on split spectra. In place; no call allocates.</summary>
public static class Homomorphic
{
    /// <summary>Wiener deconvolution of spectra, <c>Y = X conj(S) / (|S|^2 + q)</c>.</summary>
    /// <param name="real">Shape [bin]: record, replaced by the result.</param>
    /// <param name="imaginary">Shape [bin].</param>
    /// <param name="pulseReal">Shape [bin]: pulse.</param>
    /// <param name="pulseImaginary">Shape [bin].</param>
    /// <param name="noiseToSignal">q, in the units of |S|^2, not negative; a bin in which both vanish gives 0.</param>
    public static void Wiener(
        Span<double> real,
        Span<double> imaginary,
        ReadOnlySpan<double> pulseReal,
        ReadOnlySpan<double> pulseImaginary,
        double noiseToSignal
    )
    {
        for (int k = 0; k < real.Length; k++)
        {
            double power = pulseReal[k] * pulseReal[k] + pulseImaginary[k] * pulseImaginary[k] + noiseToSignal;
            if (!(power > 0))
            {
                (real[k], imaginary[k]) = (0, 0);
                continue;
            }
            double r = real[k] * pulseReal[k] + imaginary[k] * pulseImaginary[k];
            double m = imaginary[k] * pulseReal[k] - real[k] * pulseImaginary[k];
            (real[k], imaginary[k]) = (r / power, m / power);
        }
    }

    /// <summary>Real cepstrum of a record, <c>IDFT(log(|DFT x| + floor))</c>.</summary>
    /// <param name="transform">Transform of the padded length.</param>
    /// <param name="real">Shape [length]: the record, padded with zeros; takes the cepstrum.</param>
    /// <param name="imaginary">Shape [length]: zeros; left with rounding errors.</param>
    /// <param name="floor">Added to the magnitude before the logarithm, above 0, in its units.</param>
    public static void RealCepstrum(FourierTransform transform, Span<double> real, Span<double> imaginary, double floor)
    {
        ArgumentNullException.ThrowIfNull(transform);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(floor);
        transform.Forward(real, imaginary);
        for (int k = 0; k < real.Length; k++)
        {
            real[k] = Math.Log(Math.Sqrt(real[k] * real[k] + imaginary[k] * imaginary[k]) + floor);
            imaginary[k] = 0;
        }
        transform.Inverse(real, imaginary);
    }
}
