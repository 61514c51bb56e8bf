using EchoToThickness.Signals;

namespace EchoToThickness.Echoes;

/// <summary>Designs the complex filter through which the echo train is looked at: a Gaussian band about the nominal frequency.</summary>
public static class EchoFilter
{
    /// <summary>Bandwidth of the filter over the pulse's: wide enough to keep timing, narrow enough to reject noise.</summary>
    public const double WidthRatio = 1.2;

    /// <summary>Standard deviation over the full width at half height of a Gaussian, 1/(2 sqrt(2 ln 2)).</summary>
    public const double SigmaPerWidth = 1 / 2.3548;

    /// <summary>
    /// Taps <c>h = g e^(j 2 pi f0 t)</c> with a Gaussian <c>g</c>, tapered to zero, the mean removed (no response at 0 Hz), scaled so that a
    /// Gaussian pulse keeps about its amplitude. Odd length, delay half of it.
    /// </summary>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="frequencyHz">Nominal centre frequency.</param>
    /// <param name="bandwidthFraction">Relative bandwidth at -6 dB.</param>
    /// <param name="maximumTaps">Longest filter, odd.</param>
    public static AnalyticTaps Design(
        double sampleRateHz,
        double frequencyHz,
        double bandwidthFraction,
        int maximumTaps
    )
    {
        double sigmaHz = bandwidthFraction * frequencyHz * SigmaPerWidth * WidthRatio;
        double sigmaSeconds = 1 / (2 * Math.PI * sigmaHz);
        int half = Math.Max(2, Math.Min(maximumTaps / 2, (int)Math.Ceiling(3.6 * sigmaSeconds * sampleRateHz)));
        int taps = 2 * half + 1;
        var window = new double[taps];
        var real = new double[taps];
        var imaginary = new double[taps];
        double windowSum = 0;
        double realSum = 0;
        double imaginarySum = 0;
        for (int k = 0; k < taps; k++)
        {
            int n = k - half;
            double u = 2 * Math.PI * sigmaHz * n / sampleRateHz;
            double phase = 2 * Math.PI * frequencyHz * n / sampleRateHz;
            window[k] = Math.Exp(-0.5 * u * u) * 0.5 * (1 + Math.Cos(Math.PI * n / (half + 1)));
            real[k] = window[k] * Math.Cos(phase);
            imaginary[k] = window[k] * Math.Sin(phase);
            windowSum += window[k];
            realSum += real[k];
            imaginarySum += imaginary[k];
        }
        double magnitude = 0;
        for (int k = 0; k < taps; k++)
        {
            real[k] -= window[k] * realSum / windowSum;
            imaginary[k] -= window[k] * imaginarySum / windowSum;
            magnitude += Math.Sqrt(real[k] * real[k] + imaginary[k] * imaginary[k]);
        }
        for (int k = 0; k < taps; k++)
        {
            real[k] *= 2 / magnitude;
            imaginary[k] *= 2 / magnitude;
        }
        return new AnalyticTaps(real, imaginary);
    }
}
