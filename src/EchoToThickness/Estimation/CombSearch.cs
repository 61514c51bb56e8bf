using EchoToThickness.Echoes;

namespace EchoToThickness.Estimation;

/// <summary>
/// Search of a noisy record for the spacing whose multiples, all together, carry the most energy with the wall's polarity. Used where
/// no single echo stands well over the noise. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Coherent: <c>C(tau) = sum g^(n-1) y(t0 + n tau)</c>, <c>y</c> the filtered record turned by the interface's phase and sign-reversed,
/// <c>L = max(C, 0)^2 / (2 sigma^2 sum g^(2n-2))</c>, the log likelihood ratio of a train of amplitude ratio g against noise (Kay 1998,
/// Detection Theory, section 7.6). Incoherent: sum of <c>e^2 / (2 sigma^2)</c> over one to three multiples; under noise each term is
/// exponential, so minus the log of the chance of the sum is <c>Q - ln(1 + Q + ...)</c>. Scatter of the grain is coherent and stronger than the
/// record's noise for a while: where the sums at other spacings nearby, or the energies about the wall, have a median above what noise would
/// give them (0.455 of a squared normal deviate, ln 2 of an exponential one), evidence is divided by that excess.
/// </remarks>
public sealed class CombSearch
{
    private const int Up = 4;

    /// <summary>Clutter is judged over this many periods on either side of a spacing.</summary>
    private const double ExcessPeriods = 10;

    private const int FewestAround = 40;
    private const int Echoes = 8;
    private const double Decay = 0.85;
    private const double LongestPeriods = 60;

    /// <summary>Smallest single term of the incoherent sum, nats.</summary>
    private const double SmallestTerm = 2.4;

    private readonly EchoScale _scale;
    private readonly double[] _turned;
    private readonly double[] _energy;
    private readonly bool[] _blank;
    private readonly double[] _sum;
    private readonly double[] _weight;
    private readonly double[] _evidence;
    private readonly double[] _around;
    private readonly double[] _rotationReal;
    private readonly double[] _rotationImaginary;
    private EchoRecord _record = null!;
    private double _start;
    private double _noise;
    private int _first;
    private int _count;

    /// <summary>Makes room for records of one length.</summary>
    /// <param name="samples">Samples of an A-scan.</param>
    /// <param name="scale">Lengths in samples.</param>
    public CombSearch(int samples, EchoScale scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        _scale = scale;
        int fine = Math.Max(1, (samples - 1) * Up);
        int spacings = (int)Math.Ceiling(Math.Min(LongestPeriods * scale.Period, samples) * Up) + 2;
        _turned = new double[fine];
        _energy = new double[fine];
        _blank = new bool[fine];
        _sum = new double[spacings];
        _weight = new double[spacings];
        _evidence = new double[spacings];
        _around = new double[spacings / Up + 1];
        _rotationReal = new double[fine];
        _rotationImaginary = new double[fine];
        for (int k = 0; k < fine; k++)
        {
            (_rotationImaginary[k], _rotationReal[k]) = Math.SinCos(2 * Math.PI / scale.Period * k / Up);
        }
    }

    /// <summary>Prepares a record: turns it by the interface's phase and blanks the echoes that are not the wall's.</summary>
    /// <param name="record">The record.</param>
    /// <param name="front">Candidate taken for the interface.</param>
    /// <param name="ringFraction">Echoes stronger than this fraction of the interface right behind it are its ring-down.</param>
    public void Begin(EchoRecord record, int front, double ringFraction)
    {
        ArgumentNullException.ThrowIfNull(record);
        _record = record;
        _start = record.Candidates[front].PositionSamples;
        _noise = record.NoiseFraction;
        Turn();
        Array.Clear(_blank);
        double end = Math.Min(LongestPeriods * _scale.Period, record.Length - 8 - _start);
        double range = end - _scale.SmallestSpacing;
        _count = range <= 0 ? 0 : Math.Min(_sum.Length, (int)Math.Ceiling(range * Up));
        _first = 0;
        int reach = Math.Min(_count, (int)(6 * _scale.Period * Up));
        float limit = (float)(ringFraction * record.Candidates[front].AmplitudeFraction);
        for (int k = 0; k < reach; k++)
        {
            if (Interpolate(record.Envelope, _start + Spacing(k)) > limit)
                _first = (int)(k + 1.5 * _scale.Period * Up);
        }
    }

    /// <summary>Blanks three pulse widths about a candidate.</summary>
    /// <param name="candidate">Index of the candidate.</param>
    public void Blank(int candidate)
    {
        double centre = _record.Candidates[candidate].PositionSamples;
        double reach = 3 * _scale.PulseSigma;
        int from = Math.Max(0, (int)Math.Ceiling((centre - reach) * Up));
        int to = Math.Min(_blank.Length - 1, (int)Math.Floor((centre + reach) * Up));
        for (int k = from; k <= to; k++)
        {
            _blank[k] = true;
            _turned[k] = 0;
            _energy[k] = 0;
        }
    }

    /// <summary>The coherent comb.</summary>
    /// <param name="frontAmplitudeFraction">Amplitude of the interface, for the uncertainty.</param>
    public CombResult Coherent(double frontAmplitudeFraction)
    {
        for (int k = 0; k < _count; k++)
        {
            double sum = 0;
            double weight = 0;
            double gain = 1;
            for (int n = 1; n <= Echoes; n++)
            {
                int position = Fine(_start + n * Spacing(k));
                if (position >= _turned.Length - 4 * Up)
                    break;
                sum += gain * _turned[position];
                weight += gain * gain;
                gain *= Decay;
            }
            _sum[k] = sum;
            _weight[k] = weight;
            double positive = Math.Max(sum, 0);
            _evidence[k] = k < _first || weight == 0 ? 0 : positive * positive / (2 * _noise * _noise * weight);
        }
        int best = Best(out double runnerUp);
        if (best < 0)
            return default(CombResult) with { AtEdge = true };
        double excess = Excess(
            best,
            static (comb, k) =>
                comb._weight[k] == 0 ? 0 : comb._sum[k] * comb._sum[k] / (comb._noise * comb._noise * comb._weight[k]),
            0.455
        );
        double spacing = Spacing(best);
        if (best > 0 && best < _count - 1)
            spacing += Signals.SubSample.Parabola(_sum[best - 1], _sum[best], _sum[best + 1]) / Up;
        return new CombResult(
            spacing,
            _evidence[best] / excess,
            Math.Max(0, runnerUp) / excess,
            best == 0 || best == _count - 1,
            MayHide(best),
            Uncertainty(best, frontAmplitudeFraction),
            excess
        );
    }

    /// <summary>The incoherent comb.</summary>
    public CombResult Incoherent()
    {
        for (int k = 0; k < _count; k++)
        {
            double best = double.NegativeInfinity;
            double total = 0;
            for (int n = 1; n <= 3; n++)
            {
                int position = Fine(_start + n * Spacing(k));
                if (position >= _turned.Length - 4 * Up || _energy[position] < SmallestTerm)
                    break;
                total += _energy[position];
                double chance = n switch
                {
                    1 => 0,
                    2 => Math.Log(1 + total),
                    _ => Math.Log(1 + total + total * total / 2),
                };
                best = Math.Max(best, total - chance);
            }
            _evidence[k] = k < _first ? double.NegativeInfinity : best;
        }
        int at = Best(out double runnerUp);
        if (at < 0)
            return default(CombResult) with { AtEdge = true };
        double excess = Excess(
            at,
            static (comb, k) => comb._energy[Math.Min(Fine(comb._start + comb.Spacing(k)), comb._energy.Length - 1)],
            Math.Log(2)
        );
        return new CombResult(
            Spacing(at),
            _evidence[at] / excess,
            Math.Max(0, runnerUp) / excess,
            at == 0 || at == _count - 1,
            MayHide(at),
            double.NaN,
            excess
        );
    }

    /// <summary>Median of a quantity about a spacing, its own pulse left out, over what noise gives; 1 at least. A static quantity is made once, not per A-scan.</summary>
    private double Excess(int best, Func<CombSearch, int, double> quantity, double expected)
    {
        int reach = (int)(ExcessPeriods * _scale.Period * Up);
        int own = (int)(2 * _scale.Period * Up);
        int count = 0;
        for (int k = Math.Max(_first, best - reach); k <= Math.Min(_count - 1, best + reach); k += Up)
        {
            if (Math.Abs(k - best) > own && quantity(this, k) is > 0 and var value)
                _around[count++] = value;
        }
        if (count < FewestAround)
            return 1;
        Span<double> around = _around.AsSpan(0, count);
        around.Sort();
        return Math.Max(1, around[count / 2] / expected);
    }

    private int Best(out double runnerUp)
    {
        runnerUp = double.NegativeInfinity;
        int best = -1;
        for (int k = 0; k < _count; k++)
        {
            if (best < 0 || _evidence[k] > _evidence[best])
                best = k;
        }
        for (int k = 0; k < _count; k++)
        {
            if (Math.Abs(k - best) > 2 * _scale.Period * Up)
                runnerUp = Math.Max(runnerUp, _evidence[k]);
        }
        return best;
    }

    private double Uncertainty(int best, double frontAmplitudeFraction)
    {
        double amplitude = _sum[best] / _weight[best];
        double spread = 0;
        double first = 0;
        double gain = 1;
        for (int n = 1; n <= Echoes; n++)
        {
            if (Fine(_start + n * Spacing(best)) >= _turned.Length - 4 * Up)
                break;
            spread += n * n * gain * gain;
            first += n * gain * gain;
            gain *= Decay;
        }
        double angular = 2 * Math.PI * _scale.RmsFrequencyHz;
        double bound = _record.NoiseFraction * _record.NoiseFraction / (angular * angular);
        double ratio = first / spread;
        return Math.Sqrt(
            bound / (amplitude * amplitude * spread)
                + bound / (frontAmplitudeFraction * frontAmplitudeFraction) * ratio * ratio
        );
    }

    private bool MayHide(int spacing)
    {
        for (int part = 2; part <= 3; part++)
        {
            int position = Math.Min(_blank.Length - 1, Fine(_start + Spacing(spacing) / part));
            if (_blank[position])
                return true;
        }
        return false;
    }

    /// <summary>Interpolates in the base band, four points a sample, and turns by the interface's phase.</summary>
    private void Turn()
    {
        ReadOnlySpan<float> real = _record.Real;
        ReadOnlySpan<float> imaginary = _record.Imaginary;
        ReadOnlySpan<float> envelope = _record.Envelope;
        int at = (int)_start;
        double rest = _start - at;
        (double r0, double i0) = BaseBand(real, imaginary, at);
        (double r1, double i1) = BaseBand(real, imaginary, at + 1);
        double phase = Math.Atan2(i0 + rest * (i1 - i0), r0 + rest * (r1 - r0)) + 2 * Math.PI / _scale.Period * _start;
        (double sine, double cosine) = Math.SinCos(phase);
        double scale = 1 / (2 * _noise * _noise);
        (r1, i1) = BaseBand(real, imaginary, 0);
        for (int n = 0; n < real.Length - 1; n++)
        {
            (r0, i0) = (r1, i1);
            (r1, i1) = BaseBand(real, imaginary, n + 1);
            for (int u = 0; u < Up; u++)
            {
                int k = n * Up + u;
                double fraction = (double)u / Up;
                double r = r0 + fraction * (r1 - r0);
                double i = i0 + fraction * (i1 - i0);
                double turnedReal = r * _rotationReal[k] - i * _rotationImaginary[k];
                double turnedImaginary = r * _rotationImaginary[k] + i * _rotationReal[k];
                _turned[k] = -(turnedReal * cosine + turnedImaginary * sine);
                double e = envelope[n] + fraction * (envelope[n + 1] - envelope[n]);
                _energy[k] = e * e * scale;
            }
        }
    }

    private (double Real, double Imaginary) BaseBand(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, int n)
    {
        int k = Math.Min(n * Up, _rotationReal.Length - 1);
        double c = _rotationReal[k];
        double s = _rotationImaginary[k];
        if (n * Up >= _rotationReal.Length)
            (s, c) = Math.SinCos(2 * Math.PI / _scale.Period * n);
        return (real[n] * c + imaginary[n] * s, imaginary[n] * c - real[n] * s);
    }

    private double Spacing(int k) => _scale.SmallestSpacing + (double)k / Up;

    private static int Fine(double positionSamples) => EchoScale.Round(positionSamples * Up);

    private static double Interpolate(ReadOnlySpan<float> values, double position)
    {
        int at = Math.Min((int)position, values.Length - 2);
        return values[at] + (position - at) * (values[at + 1] - values[at]);
    }
}
