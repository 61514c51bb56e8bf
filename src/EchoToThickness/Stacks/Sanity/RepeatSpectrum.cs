using EchoToThickness.Signals;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Averages the power spectra of A-scans, each at unit energy, and finds inverted repeats by autocorrelation.</summary>
internal sealed class RepeatSpectrum
{
    /// <summary>Longest stretch of an A-scan that is transformed, samples.</summary>
    private const int MaximumLength = 8192;

    private readonly int _length;
    private readonly double[] _real;
    private readonly double[] _imaginary;
    private readonly double[] _power;
    private readonly FourierTransform _transform;

    public RepeatSpectrum(int samples)
    {
        _length = Math.Min(samples, MaximumLength);
        // Twice the length, so that the circular autocorrelation does not wrap.
        int size = 32;
        while (size < 2 * _length)
            size *= 2;
        _real = new double[size];
        _imaginary = new double[size];
        _power = new double[size / 2];
        _transform = new FourierTransform(size);
    }

    /// <summary>A-scans added.</summary>
    public int Count { get; private set; }

    /// <summary>Adds an A-scan.</summary>
    /// <param name="counts">Samples.</param>
    /// <param name="median">Quiet level, taken off.</param>
    /// <param name="energy">Sum of squares about the quiet level; positive.</param>
    /// <returns>
    /// Lag in samples of the deepest negative autocorrelation beyond the pulse itself; NaN when shallower than 0.06 of the zero lag, or
    /// when it does not stand out.
    /// </returns>
    public double Add(ReadOnlySpan<double> counts, double median, double energy)
    {
        Array.Clear(_real);
        Array.Clear(_imaginary);
        for (int i = 0; i < _length; i++)
            _real[i] = counts[i] - median;
        _transform.Forward(_real, _imaginary);
        for (int i = 0; i < _real.Length; i++)
        {
            double p = _real[i] * _real[i] + _imaginary[i] * _imaginary[i];
            if (i < _power.Length)
                _power[i] += p / energy;
            _real[i] = p;
            _imaginary[i] = 0;
        }
        Count++;
        // The power spectrum is even, so that forward and inverse transform are the same but for the scale.
        _transform.Forward(_real, _imaginary);
        return DeepestRepeat();
    }

    /// <summary>The averaged spectrum's peak and -6 dB edges, in cycles per sample; null when nothing stands out of the noise.</summary>
    public (double Dominant, double Lower, double Upper)? Band()
    {
        if (Count == 0)
            return null;
        double[] power = (double[])_power.Clone();
        power[0] = 0;
        double[] sorted = (double[])power.Clone();
        Array.Sort(sorted);
        double floor = sorted[sorted.Length / 5];
        for (int i = 1; i < power.Length; i++)
            power[i] = Math.Max(0, power[i] - floor);
        // Repeats of the wall ripple the spectrum; smooth over 6 % of the peak frequency, found in two steps.
        double[] smooth = Smooth(power, Math.Max(2, power.Length / 100.0));
        for (int pass = 0; pass < 2; pass++)
            smooth = Smooth(power, Math.Max(2, 0.06 * IndexOfMaximum(smooth)));
        int peak = IndexOfMaximum(smooth);
        if (smooth[peak] <= 0)
            return null;
        double quarter = 0.25 * smooth[peak];
        int lower = peak;
        while (lower > 0 && smooth[lower] > quarter)
            lower--;
        int upper = peak;
        while (upper < smooth.Length - 1 && smooth[upper] > quarter)
            upper++;
        double bin = 0.5 / power.Length;
        return (peak * bin, lower * bin, upper * bin);
    }

    private double DeepestRepeat()
    {
        double zero = _real[0];
        // The pulse itself ends where three crossings of zero lie behind and the correlation has stayed small for a while.
        int start = 1;
        int crossings = 0;
        while (start < _length && crossings < 9)
        {
            if ((_real[start] < 0) != (_real[start - 1] < 0))
                crossings++;
            start++;
        }
        int best = -1;
        double depth = -0.06 * zero;
        for (int lag = start; lag < _length; lag++)
        {
            if (_real[lag] < depth)
            {
                depth = _real[lag];
                best = lag;
            }
        }
        if (best < 0)
            return double.NaN;
        // A repeat stands out when nothing but its own surroundings (the width of the pulse) and its multiples come near it.
        for (int lag = start; lag < _length; lag++)
        {
            int off = lag % best;
            bool own = off <= start || best - off <= start;
            if (!own && _real[lag] < 0.6 * depth)
                return double.NaN;
        }
        return best;
    }

    private static int IndexOfMaximum(double[] values)
    {
        int best = 1;
        for (int i = 2; i < values.Length; i++)
        {
            if (values[i] > values[best])
                best = i;
        }
        return best;
    }

    private static double[] Smooth(double[] values, double sigmaBins)
    {
        int reach = (int)Math.Ceiling(3 * sigmaBins);
        double[] kernel = new double[reach + 1];
        double sum = 0;
        for (int k = 0; k <= reach; k++)
        {
            kernel[k] = Math.Exp(-0.5 * k * k / (sigmaBins * sigmaBins));
            sum += k == 0 ? kernel[k] : 2 * kernel[k];
        }
        double[] result = new double[values.Length];
        for (int i = 0; i < values.Length; i++)
        {
            double value = kernel[0] * values[i];
            for (int k = 1; k <= reach; k++)
            {
                if (i - k >= 0)
                    value += kernel[k] * values[i - k];
                if (i + k < values.Length)
                    value += kernel[k] * values[i + k];
            }
            result[i] = value / sum;
        }
        return result;
    }
}
