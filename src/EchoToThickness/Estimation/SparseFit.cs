using EchoToThickness.Signals;

namespace EchoToThickness.Estimation;

/// <summary>
/// Orthogonal matching pursuit on shifted copies of the reference echo, in the pulse's band: the strongest copy is taken out, then all copies
/// found so far are fitted together, amplitudes and times, between samples. Owned by a workspace; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Pati, Rezaiifar and Krishnaprasad 1993 (pursuit); the times are refined by Gauss-Newton on
/// <c>sum over the band of |W - S sum a_k exp(-j w t_k)|^2</c>, so no time is bound to a grid. Its normal matrix needs only sums of
/// <c>|S|^2</c> times powers of w and the cosine or sine of <c>w (t_i - t_k)</c>. Copies closer than half a pulse cannot be told from one.
/// </remarks>
internal sealed class SparseFit
{
    public const int MaximumAtoms = 8;
    private const int Passes = 3;
    private readonly EchoSpectrum _spectrum;
    private readonly double[] _real;
    private readonly double[] _imaginary;
    private readonly double[] _matchedReal;
    private readonly double[] _matchedImaginary;
    private readonly double[] _times = new double[MaximumAtoms];
    private readonly double[] _amplitudes = new double[MaximumAtoms];
    private readonly double[] _matrix = new double[4 * MaximumAtoms * MaximumAtoms];
    private readonly double[] _right = new double[2 * MaximumAtoms];

    public SparseFit(EchoSpectrum spectrum)
    {
        _spectrum = spectrum;
        _real = new double[spectrum.BinCount];
        _imaginary = new double[spectrum.BinCount];
        _matchedReal = new double[spectrum.Length];
        _matchedImaginary = new double[spectrum.Length];
    }

    public int Count { get; private set; }

    /// <summary>Shape [atom]: samples behind the interface, in the order found.</summary>
    public ReadOnlySpan<double> Times => _times.AsSpan(0, Count);

    /// <summary>Shape [atom]: amplitude against the interface, signed.</summary>
    public ReadOnlySpan<double> Amplitudes => _amplitudes.AsSpan(0, Count);

    /// <summary>Finds the copies between two lags.</summary>
    /// <param name="low">Earliest, samples behind the interface.</param>
    /// <param name="high">Latest.</param>
    /// <param name="noiseFraction">White noise of a sample.</param>
    /// <param name="ratio">A copy stands this many noise deviations over the residual.</param>
    /// <param name="period">One period, samples.</param>
    public void Run(double low, double high, double noiseFraction, double ratio, double period)
    {
        Count = 0;
        double energy = _spectrum.Energy;
        if (!(energy > 0))
            return;
        int first = Math.Max(1, (int)Math.Ceiling(low - 1));
        int end = Math.Min(_spectrum.Length - 2, (int)Math.Floor(high + 1));
        double least = ratio * noiseFraction * Math.Sqrt(energy);
        while (Count < MaximumAtoms)
        {
            Residual();
            _spectrum.Match(_real, _imaginary, _matchedReal, _matchedImaginary);
            int best = Strongest(first, end, (int)Math.Ceiling(0.6 * period));
            if (best < 0 || Math.Abs(_matchedReal[best]) < least)
                break;
            double peak = _matchedReal[best];
            double sign = Math.Sign(peak);
            _times[Count] =
                best + SubSample.Cosine(sign * _matchedReal[best - 1], sign * peak, sign * _matchedReal[best + 1]);
            _amplitudes[Count] = peak / energy;
            Count++;
            for (int pass = 0; pass < Passes; pass++)
            {
                if (!Refine(period))
                    break;
            }
        }
    }

    /// <summary>
    /// Lag of the largest real value about the strongest maximum of the envelope. Only a maximum counts: the flank of an echo behind the end of
    /// the stretch is none.
    /// </summary>
    private int Strongest(int first, int end, int reach)
    {
        int top = -1;
        double highest = 0;
        for (int l = first; l <= end; l++)
        {
            double power = Power(l);
            if (power > highest && power >= Power(l - 1) && power >= Power(l + 1))
                (highest, top) = (power, l);
        }
        if (top < 0)
            return -1;
        int best = top;
        for (int l = Math.Max(1, top - reach); l <= Math.Min(_spectrum.Length - 2, top + reach); l++)
        {
            if (Math.Abs(_matchedReal[l]) > Math.Abs(_matchedReal[best]))
                best = l;
        }
        return best;
    }

    private double Power(int l) => _matchedReal[l] * _matchedReal[l] + _matchedImaginary[l] * _matchedImaginary[l];

    private void Residual()
    {
        _spectrum.WallReal.CopyTo(_real);
        _spectrum.WallImaginary.CopyTo(_imaginary);
        ReadOnlySpan<double> sr = _spectrum.EchoReal;
        ReadOnlySpan<double> si = _spectrum.EchoImaginary;
        for (int a = 0; a < Count; a++)
        {
            (double s, double c) = Math.SinCos(-_spectrum.FirstAngular * _times[a]);
            (double ds, double dc) = Math.SinCos(-_spectrum.AngularStep * _times[a]);
            double amplitude = _amplitudes[a];
            for (int k = 0; k < sr.Length; k++)
            {
                _real[k] -= amplitude * (sr[k] * c - si[k] * s);
                _imaginary[k] -= amplitude * (sr[k] * s + si[k] * c);
                (c, s) = (c * dc - s * ds, s * dc + c * ds);
            }
        }
    }

    /// <summary>One Gauss-Newton step of all amplitudes and times.</summary>
    private bool Refine(double period)
    {
        int n = 2 * Count;
        Residual();
        Span<double> matrix = _matrix.AsSpan(0, n * n);
        Span<double> right = _right.AsSpan(0, n);
        for (int i = 0; i < Count; i++)
        {
            (right[i], double slope) = Gradient(_times[i]);
            right[Count + i] = _amplitudes[i] * slope;
            for (int j = 0; j <= i; j++)
            {
                (double same, double cross, double curve) = Products(_times[i] - _times[j]);
                matrix[i * n + j] = matrix[j * n + i] = same;
                // <B_i, a_j dB_j/dt_j> and <B_j, a_i dB_i/dt_i>: the sine is odd.
                matrix[i * n + Count + j] = matrix[(Count + j) * n + i] = _amplitudes[j] * cross;
                matrix[j * n + Count + i] = matrix[(Count + i) * n + j] = -_amplitudes[i] * cross;
                matrix[(Count + i) * n + Count + j] = matrix[(Count + j) * n + Count + i] =
                    _amplitudes[i] * _amplitudes[j] * curve;
            }
        }
        if (!NormalEquations.Solve(matrix, right))
            return false;
        for (int i = 0; i < Count; i++)
        {
            _amplitudes[i] += right[i];
            _times[i] += Math.Clamp(right[Count + i], -period / 8, period / 8);
        }
        return true;
    }

    /// <summary>Residual against a copy and against its derivative by time.</summary>
    private (double Value, double Slope) Gradient(double time)
    {
        ReadOnlySpan<double> sr = _spectrum.EchoReal;
        ReadOnlySpan<double> si = _spectrum.EchoImaginary;
        (double s, double c) = Math.SinCos(_spectrum.FirstAngular * time);
        (double ds, double dc) = Math.SinCos(_spectrum.AngularStep * time);
        double omega = _spectrum.FirstAngular;
        double value = 0;
        double slope = 0;
        for (int k = 0; k < sr.Length; k++, omega += _spectrum.AngularStep)
        {
            double r = _real[k] * sr[k] + _imaginary[k] * si[k];
            double m = _imaginary[k] * sr[k] - _real[k] * si[k];
            value += r * c - m * s;
            slope -= omega * (r * s + m * c);
            (c, s) = (c * dc - s * ds, s * dc + c * ds);
        }
        return (value, slope);
    }

    private (double Same, double Cross, double Curve) Products(double delay)
    {
        ReadOnlySpan<double> sr = _spectrum.EchoReal;
        ReadOnlySpan<double> si = _spectrum.EchoImaginary;
        (double s, double c) = Math.SinCos(_spectrum.FirstAngular * delay);
        (double ds, double dc) = Math.SinCos(_spectrum.AngularStep * delay);
        double omega = _spectrum.FirstAngular;
        double same = 0;
        double cross = 0;
        double curve = 0;
        for (int k = 0; k < sr.Length; k++, omega += _spectrum.AngularStep)
        {
            double power = sr[k] * sr[k] + si[k] * si[k];
            same += power * c;
            cross += power * omega * s;
            curve += power * omega * omega * c;
            (c, s) = (c * dc - s * ds, s * dc + c * ds);
        }
        return (same, cross, curve);
    }
}
