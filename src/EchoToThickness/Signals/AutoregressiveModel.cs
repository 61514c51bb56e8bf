namespace EchoToThickness.Signals;

/// <summary>
/// Autoregressive models <c>x[n] = -(a[1] x[n-1] + ... + a[p] x[n-p]) + e[n]</c> of complex or real sequences, and their extrapolation.
/// Scratch is passed in; no call allocates.
/// </summary>
public static class AutoregressiveModel
{
    /// <summary>Coefficients by Burg's method for a complex sequence (imaginary parts zero for a real one).</summary>
    /// <param name="real">Shape [sample], more than the order.</param>
    /// <param name="imaginary">Shape [sample].</param>
    /// <param name="coefficientsReal">Shape [order]: takes a[1] to a[p].</param>
    /// <param name="coefficientsImaginary">Shape [order].</param>
    /// <param name="scratch">Shape [4 samples + 2 orders] or longer.</param>
    /// <returns>Power of the prediction error, the mean power of the sequence for order 0.</returns>
    /// <exception cref="ArgumentException">Too few samples or too short a scratch.</exception>
    /// <remarks>
    /// Each reflection coefficient minimises forward plus backward error, <c>k = -2 sum f[n] conj(b[n-1]) / sum (|f[n]|^2 + |b[n-1]|^2)</c>
    /// (Burg 1967; Kay and Marple, "Spectrum analysis, a modern perspective", Proc. IEEE 69, 1981, 1380). |k| is at most 1: the model is
    /// stable. Cost <c>O(samples × order)</c>.
    /// </remarks>
    public static double Burg(
        ReadOnlySpan<double> real,
        ReadOnlySpan<double> imaginary,
        Span<double> coefficientsReal,
        Span<double> coefficientsImaginary,
        Span<double> scratch
    )
    {
        int n = real.Length;
        int order = coefficientsReal.Length;
        if (imaginary.Length != n || coefficientsImaginary.Length != order)
            throw new ArgumentException("Real and imaginary parts must be of equal length.", nameof(imaginary));
        if (order >= n)
            throw new ArgumentException(
                $"Order {order} needs more than {order} samples; there are {n}.",
                nameof(coefficientsReal)
            );
        if (scratch.Length < 4 * n + 2 * order)
            throw new ArgumentException(
                $"The scratch holds {scratch.Length} numbers; {4 * n + 2 * order} are needed.",
                nameof(scratch)
            );
        Span<double> fr = scratch[..n];
        Span<double> fi = scratch.Slice(n, n);
        Span<double> br = scratch.Slice(2 * n, n);
        Span<double> bi = scratch.Slice(3 * n, n);
        Span<double> oldReal = scratch.Slice(4 * n, order);
        Span<double> oldImaginary = scratch.Slice(4 * n + order, order);
        real.CopyTo(fr);
        imaginary.CopyTo(fi);
        real.CopyTo(br);
        imaginary.CopyTo(bi);
        double power = 0;
        for (int i = 0; i < n; i++)
            power += real[i] * real[i] + imaginary[i] * imaginary[i];
        power /= n;
        coefficientsReal.Clear();
        coefficientsImaginary.Clear();
        for (int m = 0; m < order; m++)
        {
            double crossReal = 0;
            double crossImaginary = 0;
            double energy = 0;
            for (int i = m + 1; i < n; i++)
            {
                (double xr, double xi, double yr, double yi) = (fr[i], fi[i], br[i - 1], bi[i - 1]);
                crossReal += xr * yr + xi * yi;
                crossImaginary += xi * yr - xr * yi;
                energy += xr * xr + xi * xi + yr * yr + yi * yi;
            }
            if (!(energy > 0))
                return 0;
            double kr = -2 * crossReal / energy;
            double ki = -2 * crossImaginary / energy;
            for (int i = n - 1; i > m; i--)
            {
                (double xr, double xi, double yr, double yi) = (fr[i], fi[i], br[i - 1], bi[i - 1]);
                fr[i] = xr + kr * yr - ki * yi;
                fi[i] = xi + kr * yi + ki * yr;
                br[i] = yr + kr * xr + ki * xi;
                bi[i] = yi + kr * xi - ki * xr;
            }
            // Levinson: a_m[j] = a[j] + k conj(a[m - j]), a_m[m] = k.
            coefficientsReal[..m].CopyTo(oldReal);
            coefficientsImaginary[..m].CopyTo(oldImaginary);
            for (int j = 0; j < m; j++)
            {
                double ar = oldReal[m - 1 - j];
                double ai = -oldImaginary[m - 1 - j];
                coefficientsReal[j] = oldReal[j] + kr * ar - ki * ai;
                coefficientsImaginary[j] = oldImaginary[j] + kr * ai + ki * ar;
            }
            coefficientsReal[m] = kr;
            coefficientsImaginary[m] = ki;
            power *= 1 - kr * kr - ki * ki;
        }
        return power;
    }

    /// <summary>Coefficients of a real sequence from its autocorrelation: Yule-Walker equations by the Levinson-Durbin recursion.</summary>
    /// <param name="autocorrelation">Shape [order + 1], lag 0 first; any common divisor.</param>
    /// <param name="coefficients">Shape [order]: takes a[1] to a[p].</param>
    /// <param name="scratch">Shape [order] or longer.</param>
    /// <returns>Power of the prediction error, in the units of lag 0.</returns>
    /// <exception cref="ArgumentException">Lengths that do not fit.</exception>
    public static double YuleWalker(
        ReadOnlySpan<double> autocorrelation,
        Span<double> coefficients,
        Span<double> scratch
    )
    {
        int order = coefficients.Length;
        if (autocorrelation.Length != order + 1 || scratch.Length < order)
            throw new ArgumentException(
                $"Order {order} needs {order + 1} lags and as much scratch; there are {autocorrelation.Length} and {scratch.Length}.",
                nameof(autocorrelation)
            );
        double error = autocorrelation[0];
        for (int m = 0; m < order; m++)
        {
            if (!(error > 0))
            {
                coefficients[m..].Clear();
                return 0;
            }
            double sum = autocorrelation[m + 1];
            for (int j = 0; j < m; j++)
                sum += coefficients[j] * autocorrelation[m - j];
            double k = -sum / error;
            coefficients[..m].CopyTo(scratch);
            for (int j = 0; j < m; j++)
                coefficients[j] += k * scratch[m - 1 - j];
            coefficients[m] = k;
            error *= 1 - k * k;
        }
        return error;
    }

    /// <summary>Continues a sequence on both sides of a known stretch: forwards by the model, backwards by its conjugate.</summary>
    /// <param name="real">Shape [sample]; the known stretch is read, the rest is written.</param>
    /// <param name="imaginary">Shape [sample].</param>
    /// <param name="first">First known sample.</param>
    /// <param name="end">One past the last known sample; at least as many known as the order.</param>
    /// <param name="coefficientsReal">Shape [order].</param>
    /// <param name="coefficientsImaginary">Shape [order].</param>
    public static void Extrapolate(
        Span<double> real,
        Span<double> imaginary,
        int first,
        int end,
        ReadOnlySpan<double> coefficientsReal,
        ReadOnlySpan<double> coefficientsImaginary
    )
    {
        int order = coefficientsReal.Length;
        if (first < 0 || end > real.Length || end - first < order)
            throw new ArgumentException(
                $"Order {order} needs that many known samples inside the sequence; {first} to {end} are known of {real.Length}.",
                nameof(first)
            );
        for (int i = end; i < real.Length; i++)
        {
            double r = 0;
            double m = 0;
            for (int j = 0; j < order; j++)
            {
                (double xr, double xi) = (real[i - 1 - j], imaginary[i - 1 - j]);
                r -= coefficientsReal[j] * xr - coefficientsImaginary[j] * xi;
                m -= coefficientsReal[j] * xi + coefficientsImaginary[j] * xr;
            }
            (real[i], imaginary[i]) = (r, m);
        }
        for (int i = first - 1; i >= 0; i--)
        {
            double r = 0;
            double m = 0;
            for (int j = 0; j < order; j++)
            {
                (double xr, double xi) = (real[i + 1 + j], imaginary[i + 1 + j]);
                r -= coefficientsReal[j] * xr + coefficientsImaginary[j] * xi;
                m -= coefficientsReal[j] * xi - coefficientsImaginary[j] * xr;
            }
            (real[i], imaginary[i]) = (r, m);
        }
    }
}
