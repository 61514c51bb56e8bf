namespace EchoToThickness.Signals;

/// <summary>Linear-phase FIR filters by windowing the ideal response. All have delay <c>(taps - 1) / 2</c> samples.</summary>
/// <remarks>
/// Source: A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, design by windowing. Scaling as scipy.signal.firwin
/// (unit gain at the centre of the pass band), which the tests check.
/// </remarks>
public static class FirDesign
{
    /// <summary>Low-pass with unit gain at zero frequency.</summary>
    /// <param name="cutoffHz">Frequency where the gain is one half (-6 dB).</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="window">Shape [tap]; its length is the number of taps.</param>
    /// <returns>Shape [tap].</returns>
    /// <exception cref="ArgumentOutOfRangeException">The cut-off is not between zero and half the sample rate.</exception>
    public static double[] LowPass(double cutoffHz, double sampleRateHz, ReadOnlySpan<double> window)
    {
        CheckEdge(cutoffHz, sampleRateHz, nameof(cutoffHz));
        double[] taps = Ideal(0, cutoffHz / sampleRateHz, window);
        Scale(taps, 0);
        return taps;
    }

    /// <summary>Band-pass with unit gain at the middle of the band.</summary>
    /// <param name="lowHz">Lower edge, where the gain is one half (-6 dB).</param>
    /// <param name="highHz">Upper edge, where the gain is one half (-6 dB).</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="window">Shape [tap]; its length is the number of taps.</param>
    /// <returns>Shape [tap].</returns>
    /// <exception cref="ArgumentOutOfRangeException">Not 0 &lt; low &lt; high &lt; half the sample rate.</exception>
    public static double[] BandPass(double lowHz, double highHz, double sampleRateHz, ReadOnlySpan<double> window)
    {
        CheckBand(lowHz, highHz, sampleRateHz);
        double[] taps = Ideal(lowHz / sampleRateHz, highHz / sampleRateHz, window);
        Scale(taps, 0.5 * (lowHz + highHz) / sampleRateHz);
        return taps;
    }

    /// <summary>
    /// Analytic band-pass: a Hamming-windowed low-pass of half the band, shifted to the middle of the band and doubled. The real
    /// part of its output is the band-passed record, the magnitude its envelope.
    /// </summary>
    /// <param name="taps">Odd number of taps.</param>
    /// <param name="lowHz">Lower edge, where the gain is one half (-6 dB).</param>
    /// <param name="highHz">Upper edge, where the gain is one half (-6 dB).</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <exception cref="ArgumentOutOfRangeException">An even number of taps, or not 0 &lt; low &lt; high &lt; half the sample rate.</exception>
    /// <remarks>
    /// <c>g[n] = 2 h[n] exp(i w n)</c>, n = -(taps-1)/2 .. (taps-1)/2, w = 2 pi (low + high) / 2 / rate. Negative frequencies are
    /// held down by the low-pass's stop band only (about -50 dB), not removed.
    /// </remarks>
    public static AnalyticTaps AnalyticBandPass(int taps, double lowHz, double highHz, double sampleRateHz)
    {
        if (taps < 1 || taps % 2 == 0)
            throw new ArgumentOutOfRangeException(nameof(taps), taps, "The number of taps must be odd and positive.");
        CheckBand(lowHz, highHz, sampleRateHz);
        double[] low = LowPass(0.5 * (highHz - lowHz), sampleRateHz, FirWindow.Hamming(taps));
        double omega = Math.PI * (lowHz + highHz) / sampleRateHz;
        var real = new double[taps];
        var imaginary = new double[taps];
        for (int k = 0; k < taps; k++)
        {
            (double sin, double cos) = Math.SinCos(omega * (k - taps / 2));
            real[k] = 2 * low[k] * cos;
            imaginary[k] = 2 * low[k] * sin;
        }
        return new AnalyticTaps(real, imaginary);
    }

    // Ideal band [low, high] in cycles a sample: h[m] = 2 high sinc(2 high m) - 2 low sinc(2 low m), m from the centre.
    private static double[] Ideal(double low, double high, ReadOnlySpan<double> window)
    {
        if (window.IsEmpty)
            throw new ArgumentException("A filter needs at least one tap.", nameof(window));
        double centre = 0.5 * (window.Length - 1);
        var taps = new double[window.Length];
        for (int n = 0; n < taps.Length; n++)
        {
            double m = n - centre;
            taps[n] = window[n] * (2 * high * Sinc(2 * high * m) - 2 * low * Sinc(2 * low * m));
        }
        return taps;
    }

    // Divides by the gain at a frequency (cycles a sample); real because the taps are symmetric.
    private static void Scale(double[] taps, double frequency)
    {
        double centre = 0.5 * (taps.Length - 1);
        double gain = 0;
        for (int n = 0; n < taps.Length; n++)
            gain += taps[n] * Math.Cos(2 * Math.PI * frequency * (n - centre));
        for (int n = 0; n < taps.Length; n++)
            taps[n] /= gain;
    }

    private static double Sinc(double x) => x == 0 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x);

    private static void CheckBand(double lowHz, double highHz, double sampleRateHz)
    {
        CheckEdge(lowHz, sampleRateHz, nameof(lowHz));
        CheckEdge(highHz, sampleRateHz, nameof(highHz));
        if (!(lowHz < highHz))
            throw new ArgumentOutOfRangeException(
                nameof(highHz),
                highHz,
                $"The upper edge must lie above the lower, {lowHz} Hz."
            );
    }

    private static void CheckEdge(double edgeHz, double sampleRateHz, string name)
    {
        if (!(edgeHz > 0 && edgeHz < 0.5 * sampleRateHz))
            throw new ArgumentOutOfRangeException(
                name,
                edgeHz,
                $"A band edge must lie between 0 and half the sample rate, {0.5 * sampleRateHz} Hz."
            );
    }
}
