namespace EchoToThickness.Signals;

/// <summary>Symmetric windows for FIR design. Shape [tap]; 1 at the centre; a window of one tap is 1.</summary>
public static class FirWindow
{
    /// <summary>Hamming window, <c>w[n] = 0.54 - 0.46 cos(2 pi n / (N - 1))</c>.</summary>
    /// <param name="taps">Number of taps N, at least 1.</param>
    /// <returns>Shape [tap].</returns>
    /// <remarks>Source: R. W. Hamming, Digital Filters; coefficients 0.54 and 0.46 as in scipy.signal.get_window('hamming').</remarks>
    public static double[] Hamming(int taps)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(taps, 1);
        var window = new double[taps];
        for (int n = 0; n < taps; n++)
            window[n] = taps == 1 ? 1 : 0.54 - 0.46 * Math.Cos(2 * Math.PI * n / (taps - 1));
        return window;
    }

    /// <summary>Kaiser window, <c>w[n] = I0(beta sqrt(1 - (2n/(N-1) - 1)^2)) / I0(beta)</c>.</summary>
    /// <param name="taps">Number of taps N, at least 1.</param>
    /// <param name="beta">Shape: 0 is rectangular, 6 gives about -63 dB side lobes.</param>
    /// <returns>Shape [tap].</returns>
    /// <remarks>
    /// Source: J. F. Kaiser, Nonrecursive digital filter design using the I0-sinh window function, 1974.
    /// I0 by its power series, summed until a term no longer changes the sum.
    /// </remarks>
    public static double[] Kaiser(int taps, double beta)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(taps, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(beta);
        var window = new double[taps];
        for (int n = 0; n < taps; n++)
        {
            double r = taps == 1 ? 0 : 2.0 * n / (taps - 1) - 1;
            window[n] = BesselI0(beta * Math.Sqrt(Math.Max(0, 1 - r * r))) / BesselI0(beta);
        }
        return window;
    }

    // I0(x) = sum over k of ((x/2)^k / k!)^2. All terms are positive: the sum loses nothing.
    private static double BesselI0(double x)
    {
        double sum = 1;
        double term = 1;
        for (int k = 1; term > sum * 1e-17; k++)
        {
            term *= x / (2 * k) * (x / (2 * k));
            sum += term;
        }
        return sum;
    }
}
