using EchoToThickness.Signals;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// How far the envelope of a filtered record can rise between samples 4 apart: the proof behind searching every 4th sample.
/// </summary>
/// <remarks>
/// With y the filter's output and w the middle of its band, let r be the difference between <c>y(i + d) exp(-i w d)</c> and the chord
/// <c>(1 - d/4) y(i) + (d/4) y(i + 4) exp(-4 i w)</c>. r is itself a filter of the record, so <c>|r| &lt;= E_d max|x|</c>, E_d the sum of the
/// magnitudes of its taps and the maximum over the samples under them. Hence
/// <c>|y(i + d)| &lt;= (1 - d/4) |y(i)| + (d/4) |y(i + 4)| + E_d max|x|</c>, and by convexity of the square the first two terms are at most
/// <c>sqrt((1 - d/4) |y(i)|^2 + (d/4) |y(i + 4)|^2)</c>. Nothing is assumed about the record.
/// </remarks>
internal readonly struct EnvelopeBound
{
    /// <summary>Computes the bound for a filter.</summary>
    /// <param name="taps">Taps.</param>
    /// <param name="radiansPerSample">Angular frequency of the middle of the band.</param>
    public EnvelopeBound(AnalyticTaps taps, double radiansPerSample)
    {
        // Single-precision sums of the kernels stay within 1e-5 of gain x maximum; both bounds carry that.
        double rounding = 1e-5 * taps.Gain;
        Side = Residual(taps, radiansPerSample, 1) + rounding;
        Middle = Residual(taps, radiansPerSample, 2) + rounding;
    }

    /// <summary>E at one sample from either end of the interval (d = 1 and, by symmetry of linear phase, d = 3).</summary>
    public double Side { get; }

    /// <summary>E in the middle of the interval, d = 2.</summary>
    public double Middle { get; }

    // Taps of y(i + d) exp(-i w d) are g shifted by -d: at offset n, g[n + d] exp(-i w d); those of the chord likewise.
    private static double Residual(AnalyticTaps taps, double omega, int d)
    {
        double sum = 0;
        double other = 0;
        for (int n = -4; n < taps.Count; n++)
        {
            sum += Chord(taps, omega, n, d);
            other += Chord(taps, omega, n, 4 - d);
        }
        return Math.Max(sum, other);
    }

    private static double Chord(AnalyticTaps taps, double omega, int n, int d)
    {
        double share = d / 4.0;
        (double re, double im) = Turned(taps, n + d, omega * d);
        (double a, double b) = Turned(taps, n, 0);
        (double p, double q) = Turned(taps, n + 4, omega * 4);
        return double.Hypot(re - (1 - share) * a - share * p, im - (1 - share) * b - share * q);
    }

    private static (double Real, double Imaginary) Turned(AnalyticTaps taps, int index, double angle)
    {
        if (index < 0 || index >= taps.Count)
            return (0, 0);
        (double sin, double cos) = Math.SinCos(-angle);
        double re = taps.Real[index];
        double im = taps.Imaginary[index];
        return (re * cos - im * sin, re * sin + im * cos);
    }
}
