using EchoToThickness.Echoes;

namespace EchoToThickness.Estimation;

/// <summary>
/// Sharpens the spacing of a train that is already decided: maximum likelihood of interface and all multiples together, from the
/// matched filter about each multiple only. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// Model: <c>x = s(t) - b sum over n of rho^(n-1) s(t - e - n tau - o_n)</c>, s the interface, o_n known offsets, e the interface's own error in time.
/// Fisher scoring (Kay 1993, section 7.7) on tau and e; b and rho from the heights. Echoes of a train of at least 2.8 periods do not
/// overlap enough to couple. The spread of the slopes over what noise gives says whether the echoes are copies; where they are not, nothing is changed.
/// </remarks>
public sealed class JointTiming
{
    /// <summary>Multiples behind the thirty-second carry nothing: with a decay of 0.9 their weight is a thousandth.</summary>
    private const int MostOrders = 32;

    /// <summary>Under this peak-to-noise ratio of the strongest wall the cycle is looked for again, by the first four echoes together.</summary>
    private const double SearchRatio = 16;

    private const int SearchOrders = 4;

    /// <summary>How far the search reaches on either side, periods: as far as a train's members may lie from it.</summary>
    private const double SearchPeriods = 0.6;

    /// <summary>Difference of echoes that the model leaves unexplained, periods.</summary>
    private const double ShapePeriods = 3e-4;

    /// <summary>Time error that no signal-to-noise ratio removes, periods.</summary>
    private const double FloorPeriods = 2e-5;

    private const int Iterations = 2;

    /// <summary>Where echoes over the noise fill more of the record, its quieter half is not free of them.</summary>
    private const double LargestFill = 0.25;

    /// <summary>Fewest values behind a noise from residuals.</summary>
    private const int FewestResiduals = 8;

    /// <summary>Distance from an echo at which its matched filter is under a thousandth, deviations of the pulse.</summary>
    private const double ClearDeviations = 5;

    private static readonly double[] Decays = [0.15, 0.3, 0.45, 0.55, 0.65, 0.72, 0.78, 0.84, 0.89, 0.93, 0.97];

    private readonly EchoScale _scale;
    private readonly EchoTemplate _template;
    private readonly Order[] _orders = new Order[MostOrders];
    private readonly double[] _searchReal;
    private readonly double[] _searchImaginary;
    private double _noise;
    private double _frontRatio;
    private int _length;
    private double _strength;
    private double _decay;
    private double _shift;

    /// <summary>Makes room.</summary>
    /// <param name="scale">Lengths in samples.</param>
    public JointTiming(EchoScale scale)
    {
        ArgumentNullException.ThrowIfNull(scale);
        _scale = scale;
        _template = new EchoTemplate(scale);
        int lags = 2 * (int)Math.Ceiling(SearchOrders * SearchPeriods * scale.Period) + 4;
        _searchReal = new double[SearchOrders * lags];
        _searchImaginary = new double[SearchOrders * lags];
    }

    /// <summary>Number of multiples taken.</summary>
    public int Count { get; private set; }

    /// <summary>Spacing, samples.</summary>
    public double SpacingSamples { get; private set; }

    /// <summary>Standard uncertainty of it from noise, samples.</summary>
    public double UncertaintySamples { get; private set; }

    /// <summary>How much a common shift of all walls against the interface changes the spacing.</summary>
    public double InterfaceShare { get; private set; }

    /// <summary>Mean square of the slopes at the multiples over what noise gives; 1 for copies of the interface.</summary>
    public double ChiSquare { get; private set; }

    /// <summary>Begins a train.</summary>
    /// <param name="record">Prepared.</param>
    /// <param name="front">Candidate of the interface.</param>
    /// <param name="spacingSamples">Spacing so far, samples.</param>
    /// <returns>Whether the interface can be a template.</returns>
    public bool Begin(EchoRecord record, int front, double spacingSamples)
    {
        ArgumentNullException.ThrowIfNull(record);
        Count = 0;
        SpacingSamples = spacingSamples;
        _noise = record.NoiseFraction / record.NoiseGain;
        _frontRatio = record.Candidates[front].AmplitudeFraction / record.NoiseFraction;
        _length = record.Length;
        return _template.Load(record, record.Candidates[front].Sample);
    }

    /// <summary>Adds a multiple; what does not lie inside the record is left out.</summary>
    /// <param name="order">n.</param>
    /// <param name="offsetSamples">What its distance from the interface differs from n spacings by, samples.</param>
    /// <returns>Whether more can follow.</returns>
    public bool Add(int order, double offsetSamples)
    {
        if (Count == MostOrders || !_template.Fits((int)Math.Round(order * SpacingSamples + offsetSamples) + 1))
            return false;
        _orders[Count++] = new Order
        {
            Number = order,
            Offset = offsetSamples,
            Lag = int.MinValue,
        };
        return true;
    }

    /// <summary>Fits the multiples added.</summary>
    /// <param name="strongestRatio">Peak-to-noise ratio of the strongest wall.</param>
    /// <returns>Whether the echoes are copies of the interface at even spacing, so that the fit may be used.</returns>
    public bool Fit(double strongestRatio)
    {
        if (Count == 0)
            return false;
        double start = SpacingSamples;
        _shift = 0;
        int used = Count;
        if (strongestRatio < SearchRatio)
        {
            Search();
            used = Math.Min(SearchOrders, Count);
        }
        while (true)
        {
            for (int k = 0; k < Iterations; k++)
            {
                if (!Step(used))
                    return false;
            }
            if (used == Count)
                break;
            used = Math.Min(2 * used, Count);
        }
        if (!Read(Count))
            return false;
        Judge();
        double freedom = 2 * Count - 1;
        return Math.Abs(SpacingSamples - start) <= SearchPeriods * _scale.Period
            && ChiSquare < 1.5 * (1 + 3.3 * Math.Sqrt(2 / freedom));
    }

    /// <summary>The matched filter at the first multiples of all spacings about the start; the likeliest becomes the spacing.</summary>
    private void Search()
    {
        int orders = Math.Min(SearchOrders, Count);
        int room = _searchReal.Length / SearchOrders;
        double reach = SearchPeriods * _scale.Period;
        double angular = 2 * Math.PI / _scale.Period;
        Span<int> first = stackalloc int[SearchOrders];
        for (int k = 0; k < orders; k++)
        {
            Order order = _orders[k];
            double middle = order.Number * SpacingSamples + order.Offset;
            double half = Math.Min(order.Number, SearchOrders) * reach;
            first[k] = (int)Math.Floor(middle - half);
            int count = Math.Min(room, (int)Math.Ceiling(2 * half) + 3);
            for (int i = 0; i < room; i++)
            {
                (double re, double im) = (0, 0);
                if (i < count && _template.Fits(first[k] + i))
                {
                    (double r, double m) = _template.Correlate(first[k] + i);
                    (double s, double c) = Math.SinCos(-angular * (first[k] + i));
                    (re, im) = (r * c - m * s, r * s + m * c);
                }
                _searchReal[k * room + i] = re;
                _searchImaginary[k * room + i] = im;
            }
        }
        double best = SpacingSamples;
        double highest = 0;
        double step = 0.06 * _scale.Period / orders;
        for (double spacing = SpacingSamples - reach; spacing <= SpacingSamples + reach; spacing += step)
        {
            double slow = 0;
            double fast = 0;
            double slowSquares = 0;
            double fastSquares = 0;
            for (int k = 0; k < orders; k++)
            {
                double position = _orders[k].Number * spacing + _orders[k].Offset;
                double at = position - first[k];
                int i = (int)at;
                if (at < 0 || i + 1 >= room)
                    continue;
                double f = at - i;
                int j = k * room + i;
                double re = _searchReal[j] + f * (_searchReal[j + 1] - _searchReal[j]);
                double im = _searchImaginary[j] + f * (_searchImaginary[j + 1] - _searchImaginary[j]);
                (double s, double c) = Math.SinCos(angular * position);
                double height = im * s - re * c;
                double slowGain = Math.Pow(0.9, _orders[k].Number - 1);
                double fastGain = Math.Pow(0.5, _orders[k].Number - 1);
                slow += slowGain * height;
                fast += fastGain * height;
                slowSquares += slowGain * slowGain;
                fastSquares += fastGain * fastGain;
            }
            double value = Math.Max(slow > 0 ? slow * slow / slowSquares : 0, fast > 0 ? fast * fast / fastSquares : 0);
            if (value > highest)
                (highest, best) = (value, spacing);
        }
        SpacingSamples = best;
    }

    /// <summary>One step of Fisher scoring on the first echoes.</summary>
    private bool Step(int used)
    {
        if (!Read(used))
            return false;
        Information(used, out double s0, out double s1, out double s2);
        double g0 = -_shift;
        double g1 = 0;
        for (int k = 0; k < used; k++)
        {
            ref Order order = ref _orders[k];
            double pull = -order.Weight * order.Slope / _template.Curvature;
            g0 += pull;
            g1 += order.Number * pull;
        }
        double determinant = s0 * s2 - s1 * s1;
        if (!(determinant > 0))
            return false;
        double step = (s0 * g1 - s1 * g0) / determinant;
        double largest = 0.25 * _scale.Period;
        step = Math.Clamp(step, -largest, largest);
        SpacingSamples += step;
        _shift = Math.Clamp(_shift + (s2 * g0 - s1 * g1) / determinant, -largest, largest);
        return true;
    }

    private void Information(int used, out double s0, out double s1, out double s2)
    {
        s0 = 1;
        s1 = 0;
        s2 = 0;
        for (int k = 0; k < used; k++)
        {
            double power = _orders[k].Weight * _orders[k].Weight;
            s0 += power;
            s1 += _orders[k].Number * power;
            s2 += (double)_orders[k].Number * _orders[k].Number * power;
        }
    }

    /// <summary>Reads the matched filter at the multiples of the present spacing, and fits strength and decay to the heights.</summary>
    private bool Read(int used)
    {
        for (int k = 0; k < used; k++)
        {
            ref Order order = ref _orders[k];
            double position = _shift + order.Number * SpacingSamples + order.Offset;
            int lag = (int)Math.Round(position);
            if (lag != order.Lag)
            {
                if (!_template.Fits(lag))
                    return false;
                order.Lag = lag;
                order.Matched = _template.At(lag);
            }
            double height = order.Matched.Real(position - lag, out order.Slope, out order.EnvelopeSlope);
            order.Height = -height / _template.Peak;
        }
        double highest = 0;
        foreach (double decay in Decays)
        {
            double sum = 0;
            double squares = 0;
            double gain = 1;
            int number = _orders[0].Number;
            for (int k = 0; k < used; k++)
            {
                for (; number < _orders[k].Number; number++)
                    gain *= decay;
                sum += gain * _orders[k].Height;
                squares += gain * gain;
            }
            if (sum > 0 && sum * sum / squares > highest)
                (highest, _strength, _decay) = (sum * sum / squares, sum / squares, decay);
        }
        if (!(highest > 0))
            return false;
        double weight = _strength;
        int at = _orders[0].Number;
        for (int k = 0; k < used; k++)
        {
            for (; at < _orders[k].Number; at++)
                weight *= _decay;
            _orders[k].Weight = weight;
        }
        return true;
    }

    /// <summary>Uncertainty and consistency at the solution.</summary>
    private void Judge()
    {
        Information(Count, out double s0, out double s1, out double s2);
        double determinant = s0 * s2 - s1 * s1;
        double curvature = _template.Curvature;
        double power = _noise * _noise;
        // Variance of the interface's own time for noise of variance 1, samples squared.
        double unit = _template.SlopeVariance / (curvature * curvature);
        double shape = ShapePeriods * _scale.Period * curvature;
        double sum = _shift * _shift / (power * unit);
        double residuals = _shift * _shift / unit;
        foreach (ref Order order in _orders.AsSpan(0, Count))
        {
            double own = order.Weight * shape;
            double slope = order.Slope * order.Slope;
            double envelope = order.EnvelopeSlope + order.Weight * _template.EnvelopeSlope;
            envelope *= envelope;
            sum += slope / (power * _template.SlopeVariance + own * own);
            sum += envelope / (power * _template.EnvelopeSlopeVariance + own * own);
            residuals += slope / _template.SlopeVariance + envelope / _template.EnvelopeSlopeVariance;
        }
        int freedom = 2 * Count - 1;
        ChiSquare = sum / freedom;
        if (Fill() > LargestFill)
            power = Math.Min(power, ResidualPower(residuals, freedom));
        double floor = FloorPeriods * _scale.Period;
        UncertaintySamples = Math.Sqrt(power * unit * s0 / determinant + floor * floor);
        InterfaceShare = s1 / determinant;
    }

    /// <summary>Part of the record in which the filtered echoes stand over a third of the noise.</summary>
    private double Fill()
    {
        double deviation = _scale.PulseSigma * Math.Sqrt(1 + 1 / (EchoFilter.WidthRatio * EchoFilter.WidthRatio));
        double sum = Reach(_frontRatio);
        foreach (Order order in _orders.AsSpan(0, Count))
            sum += Reach(order.Weight * _frontRatio);
        return sum / _length;

        double Reach(double ratio) => ratio > 1 ? 2 * deviation * Math.Sqrt(2 * Math.Log(3 * ratio)) : 0;
    }

    /// <summary>
    /// Noise of a sample, squared, from what the fit leaves at the echoes and from the matched filter half way between them; infinite where
    /// too few values are at hand. Times n / (n - 2), so that two deviations hold what they hold of a Gaussian.
    /// </summary>
    private double ResidualPower(double residuals, int freedom)
    {
        if (0.5 * SpacingSamples > ClearDeviations * _scale.PulseSigma)
        {
            foreach (Order order in _orders.AsSpan(0, Count))
            {
                int lag = (int)(_shift + (order.Number + 0.5) * SpacingSamples + order.Offset);
                if (!_template.Fits(lag))
                    break;
                (double re, double im) = _template.Correlate(lag);
                residuals += (re * re + im * im) / _template.Variance;
                freedom += 2;
            }
        }
        return freedom < FewestResiduals ? double.PositiveInfinity : residuals / (freedom - 2);
    }

    private struct Order
    {
        public int Number;
        public double Offset;
        public int Lag;
        public MatchedLag Matched;
        public double Height;
        public double Slope;
        public double EnvelopeSlope;
        public double Weight;
    }
}
