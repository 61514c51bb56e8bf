using System.Runtime.Intrinsics;

namespace EchoToThickness.Estimation;

/// <summary>
/// Least-squares fit of Gabor echoes of one shape, <c>sum a_k exp(-alpha (t - t_k)^2) cos(w (t - t_k) + phi)</c>, by Levenberg-Marquardt with
/// analytic derivatives. With one echo it is the five-parameter echo of Demirli and Saniie (IEEE Trans. UFFC 48, 2001, 787). In white
/// noise the least-squares fit is the maximum-likelihood one. Owned by a workspace; allocates nothing after construction.
/// </summary>
public sealed class GaborFit
{
    /// <summary>Most echoes.</summary>
    public const int MaximumEchoes = 9;

    /// <summary>Parameters that the echoes share: bandwidth factor, frequency, phase.</summary>
    public const int SharedParameters = 3;

    /// <summary>An echo is left out where its envelope is under exp(-14), 8e-7 of its peak.</summary>
    private const double Cut = 14;

    private const int UsualIterations = 30;
    private readonly double[] _residual;
    private readonly double[] _shared;
    private readonly double[] _own;
    private readonly double[] _times = new double[MaximumEchoes];
    private readonly double[] _amplitudes = new double[MaximumEchoes];
    private readonly double[] _trialTimes = new double[MaximumEchoes];
    private readonly double[] _trialAmplitudes = new double[MaximumEchoes];
    private readonly int[] _first = new int[MaximumEchoes];
    private readonly int[] _end = new int[MaximumEchoes];
    private readonly double[] _normal = new double[Size * Size];
    private readonly double[] _damped = new double[Size * Size];
    private readonly double[] _gradient = new double[Size];
    private readonly double[] _step = new double[Size];
    private readonly int _capacity;

    /// <summary>Makes room.</summary>
    /// <param name="samples">Longest stretch.</param>
    public GaborFit(int samples)
    {
        _capacity = samples;
        _residual = new double[samples];
        _shared = new double[SharedParameters * samples];
        _own = new double[2 * MaximumEchoes * samples];
    }

    private static int Size => SharedParameters + 2 * MaximumEchoes;

    /// <summary>Echoes of the fit.</summary>
    public int Count { get; private set; }

    /// <summary>Shape [echo]: times, samples of the stretch.</summary>
    public ReadOnlySpan<double> Times => _times.AsSpan(0, Count);

    /// <summary>Shape [echo]: amplitudes, signed.</summary>
    public ReadOnlySpan<double> Amplitudes => _amplitudes.AsSpan(0, Count);

    /// <summary>Bandwidth factor alpha, per sample squared.</summary>
    public double BandwidthFactor { get; private set; }

    /// <summary>Angular frequency w, radians a sample.</summary>
    public double Angular { get; private set; }

    /// <summary>Phase phi, radians.</summary>
    public double Phase { get; private set; }

    /// <summary>Sum of squared residuals.</summary>
    public double Squares { get; private set; }

    /// <summary>Starts anew with a shape and no echo.</summary>
    /// <param name="bandwidthFactor">alpha, above 0.</param>
    /// <param name="angular">w.</param>
    /// <param name="phase">phi.</param>
    public void Begin(double bandwidthFactor, double angular, double phase)
    {
        Count = 0;
        (BandwidthFactor, Angular, Phase) = (bandwidthFactor, angular, phase);
    }

    /// <summary>Adds an echo to start from.</summary>
    /// <param name="timeSamples">Its time in the stretch.</param>
    /// <param name="amplitude">Its amplitude, signed, not 0.</param>
    /// <exception cref="InvalidOperationException">There are <see cref="MaximumEchoes"/> already.</exception>
    public void Add(double timeSamples, double amplitude)
    {
        if (Count == MaximumEchoes)
            throw new InvalidOperationException($"A fit takes {MaximumEchoes} echoes.");
        _times[Count] = timeSamples;
        _amplitudes[Count] = amplitude;
        Count++;
    }

    /// <summary>Takes the last echo away.</summary>
    public void RemoveLast() => Count--;

    /// <summary>Bayesian information criterion of the fit, <c>n log(RSS / n) + k log n</c> (Schwarz 1978), smaller is better.</summary>
    /// <param name="samples">Samples of the stretch.</param>
    public double Criterion(int samples) =>
        samples * Math.Log(Math.Max(Squares, double.Epsilon) / samples)
        + (SharedParameters + 2 * Count) * Math.Log(samples);

    /// <summary>Fits.</summary>
    /// <param name="samples">Shape [sample]: the stretch, at most what there is room for.</param>
    /// <param name="iterations">Most iterations; a few are enough to judge whether an echo pays.</param>
    /// <returns>Iterations done.</returns>
    public int Run(ReadOnlySpan<float> samples, int iterations = UsualIterations)
    {
        if (samples.Length > _capacity)
            throw new ArgumentException(
                $"There is room for {_capacity} samples, not {samples.Length}.",
                nameof(samples)
            );
        int n = SharedParameters + 2 * Count;
        double lambda = 1e-3;
        Squares = Evaluate(samples, _times, _amplitudes, BandwidthFactor, Angular, Phase, true);
        int iteration = 0;
        for (; iteration < iterations; iteration++)
        {
            Assemble(samples.Length, n);
            bool better = false;
            double change = 0;
            for (int attempt = 0; attempt < 6 && !better; attempt++, lambda *= 8)
            {
                if (!Step(n, lambda))
                    continue;
                double alpha = BandwidthFactor * Math.Exp(Math.Clamp(_step[0], -0.5, 0.5));
                double angular = Math.Clamp(Angular + _step[1], 0.02, Math.PI - 0.02);
                double phase = Phase + _step[2];
                for (int e = 0; e < Count; e++)
                {
                    _trialTimes[e] = _times[e] + Math.Clamp(_step[SharedParameters + 2 * e], -2, 2);
                    _trialAmplitudes[e] = _amplitudes[e] + _step[SharedParameters + 2 * e + 1];
                }
                double squares = Evaluate(samples, _trialTimes, _trialAmplitudes, alpha, angular, phase, false);
                if (!(squares <= Squares))
                    continue;
                better = true;
                change = Squares - squares;
                (BandwidthFactor, Angular, Phase) = (alpha, angular, phase);
                _trialTimes.CopyTo(_times, 0);
                _trialAmplitudes.CopyTo(_amplitudes, 0);
                lambda /= 64;
            }
            if (!better || change <= 1e-9 * Squares)
            {
                if (better)
                    Squares -= change;
                break;
            }
            Squares = Evaluate(samples, _times, _amplitudes, BandwidthFactor, Angular, Phase, true);
        }
        return iteration;
    }

    private Span<double> Own(int echo, int parameter) => _own.AsSpan((2 * echo + parameter) * _capacity, _capacity);

    private double Evaluate(
        ReadOnlySpan<float> samples,
        ReadOnlySpan<double> times,
        ReadOnlySpan<double> amplitudes,
        double alpha,
        double angular,
        double phase,
        bool derivatives
    )
    {
        Span<double> residual = _residual.AsSpan(0, samples.Length);
        for (int i = 0; i < samples.Length; i++)
            residual[i] = samples[i];
        if (derivatives)
            Array.Clear(_shared);
        double reach = Math.Sqrt(Cut / alpha);
        for (int e = 0; e < Count; e++)
        {
            int first = (int)Math.Clamp(Math.Ceiling(times[e] - reach), 0, samples.Length);
            int end = (int)Math.Clamp(Math.Floor(times[e] + reach) + 1, first, samples.Length);
            if (derivatives)
                (_first[e], _end[e]) = (first, end);
            // exp(-alpha u^2) from sample to sample by its ratio, the carrier by rotation.
            double u = first - times[e];
            double g = Math.Exp(-alpha * u * u);
            double ratio = Math.Exp(-alpha * (2 * u + 1));
            double shrink = Math.Exp(-2 * alpha);
            (double s, double c) = Math.SinCos(angular * u + phase);
            (double ds, double dc) = Math.SinCos(angular);
            double a = amplitudes[e];
            Span<double> byTime = Own(e, 0);
            Span<double> byAmplitude = Own(e, 1);
            Span<double> byAlpha = _shared.AsSpan(0, _capacity);
            Span<double> byAngular = _shared.AsSpan(_capacity, _capacity);
            Span<double> byPhase = _shared.AsSpan(2 * _capacity, _capacity);
            for (int i = first; i < end; i++, u++)
            {
                double gc = g * c;
                double gs = g * s;
                residual[i] -= a * gc;
                if (derivatives)
                {
                    byTime[i] = a * (2 * alpha * u * gc + angular * gs);
                    byAmplitude[i] = gc;
                    byAlpha[i] -= a * alpha * u * u * gc;
                    byAngular[i] -= a * u * gs;
                    byPhase[i] -= a * gs;
                }
                g *= ratio;
                ratio *= shrink;
                (c, s) = (c * dc - s * ds, s * dc + c * ds);
            }
        }
        double squares = 0;
        foreach (double r in residual)
            squares += r * r;
        return squares;
    }

    /// <summary>Normal matrix and gradient; parameters in the order log alpha, w, phi, then time and amplitude of each echo.</summary>
    private void Assemble(int samples, int n)
    {
        for (int p = 0; p < SharedParameters; p++)
        {
            ReadOnlySpan<double> column = _shared.AsSpan(p * _capacity, samples);
            _gradient[p] = Dot(column, _residual, 0, samples);
            for (int q = 0; q <= p; q++)
                Set(n, p, q, Dot(column, _shared.AsSpan(q * _capacity, samples), 0, samples));
        }
        for (int e = 0; e < Count; e++)
        for (int p = 0; p < 2; p++)
        {
            int row = SharedParameters + 2 * e + p;
            ReadOnlySpan<double> column = Own(e, p);
            _gradient[row] = Dot(column, _residual, _first[e], _end[e]);
            for (int q = 0; q < SharedParameters; q++)
                Set(n, row, q, Dot(column, _shared.AsSpan(q * _capacity, samples), _first[e], _end[e]));
            for (int other = 0; other <= e; other++)
            {
                int first = Math.Max(_first[e], _first[other]);
                int end = Math.Min(_end[e], _end[other]);
                for (int q = 0; q < 2; q++)
                    Set(
                        n,
                        row,
                        SharedParameters + 2 * other + q,
                        end > first ? Dot(column, Own(other, q), first, end) : 0
                    );
            }
        }
    }

    private void Set(int n, int row, int column, double value)
    {
        _normal[row * n + column] = value;
        _normal[column * n + row] = value;
    }

    private bool Step(int n, double lambda)
    {
        _normal.AsSpan(0, n * n).CopyTo(_damped);
        for (int p = 0; p < n; p++)
            _damped[p * n + p] *= 1 + lambda;
        _gradient.AsSpan(0, n).CopyTo(_step);
        return NormalEquations.Solve(_damped.AsSpan(0, n * n), _step.AsSpan(0, n));
    }

    /// <summary>Four lanes on every machine, summed in a fixed order: the same bits with any vector width.</summary>
    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b, int first, int end)
    {
        ReadOnlySpan<double> x = a[first..end];
        ReadOnlySpan<double> y = b[first..end];
        Vector256<double> sum = Vector256<double>.Zero;
        int i = 0;
        for (; i + 4 <= x.Length; i += 4)
            sum += Vector256.Create(x.Slice(i, 4)) * Vector256.Create(y.Slice(i, 4));
        double total = sum.GetElement(0) + sum.GetElement(1) + (sum.GetElement(2) + sum.GetElement(3));
        for (; i < x.Length; i++)
            total += x[i] * y[i];
        return total;
    }
}
