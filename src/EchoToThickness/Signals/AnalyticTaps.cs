namespace EchoToThickness.Signals;

/// <summary>
/// Complex taps of an analytic band-pass: filtering a real record with them gives the analytic signal of the band. Immutable.
/// </summary>
public sealed class AnalyticTaps
{
    private readonly double[] _real;
    private readonly double[] _imaginary;

    /// <summary>Wraps taps.</summary>
    /// <param name="real">Shape [tap]; odd number of taps, symmetric about the centre for linear phase.</param>
    /// <param name="imaginary">Shape [tap]; same length.</param>
    /// <exception cref="ArgumentException">An even number of taps, or lengths that differ.</exception>
    public AnalyticTaps(ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary)
    {
        if (real.Length % 2 == 0 || real.Length != imaginary.Length)
            throw new ArgumentException(
                $"{real.Length} real and {imaginary.Length} imaginary taps; both must be the same odd number.",
                nameof(real)
            );
        _real = real.ToArray();
        _imaginary = imaginary.ToArray();
    }

    /// <summary>Number of taps, odd.</summary>
    public int Count => _real.Length;

    /// <summary>Shape [tap]: real parts.</summary>
    public ReadOnlySpan<double> Real => _real;

    /// <summary>Shape [tap]: imaginary parts.</summary>
    public ReadOnlySpan<double> Imaginary => _imaginary;

    /// <summary>
    /// Sum of the taps' magnitudes: no output is larger than this times the largest input magnitude under the taps
    /// (<c>|sum g x| &lt;= sum |g| max |x|</c>).
    /// </summary>
    public double Gain
    {
        get
        {
            double sum = 0;
            for (int k = 0; k < _real.Length; k++)
                sum += double.Hypot(_real[k], _imaginary[k]);
            return sum;
        }
    }
}
