using EchoToThickness.Conditioning;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>
/// Takes the sub-sample instant from an echo by any <see cref="PickRule"/>. Exact definitions: docs/gating.md, section 6.
/// One instance a thread; allocates nothing per A-scan.
/// </summary>
public sealed class EchoPicker
{
    private readonly AScanConditioner _conditioner;
    private readonly bool _signed;
    private readonly double _periodSamples;
    private readonly int _halfReference;
    private readonly float[] _reference;
    private readonly float[] _stretch;
    private readonly float[] _correlation;
    private int _referenceSign;

    /// <summary>Prepares for the A-scans of one conditioner.</summary>
    /// <param name="conditioner">Owner of the signal.</param>
    public EchoPicker(AScanConditioner conditioner)
    {
        ArgumentNullException.ThrowIfNull(conditioner);
        _conditioner = conditioner;
        _signed = conditioner.IsSigned;
        _periodSamples = conditioner.PeriodSeconds * conditioner.SampleRateHz;
        _halfReference = (int)Math.Ceiling(1.5 * _periodSamples - 1e-9);
        _reference = new float[2 * _halfReference + 1];
        _correlation = new float[2 * (int)Math.Floor(_periodSamples + 1e-9) + 3];
        _stretch = new float[_correlation.Length + 2 * _halfReference];
    }

    /// <summary>One period in samples; 0 when the frequency is not known.</summary>
    public double PeriodSamples => _periodSamples;

    /// <summary>Sample around which the reference echo was taken.</summary>
    public int ReferenceIndex { get; private set; }

    /// <summary>Makes the model pulse the reference of <see cref="PickRule.Correlation"/>: a Gaussian spectrum at the centre frequency.</summary>
    /// <param name="bandwidthFraction">Relative bandwidth at -6 dB.</param>
    public void UsePulse(double bandwidthFraction)
    {
        double frequency = _conditioner.CentreFrequencyHz ?? 0;
        // Half amplitude at f (1 -+ B / 2): exp(-(pi B f tau)^2 / 2) = 1/2, so tau = sqrt(2 ln 2) / (pi B f).
        double tau = Math.Sqrt(2 * Math.Log(2)) / (Math.PI * bandwidthFraction * frequency);
        for (int k = -_halfReference; k <= _halfReference; k++)
        {
            double t = k / _conditioner.SampleRateHz;
            _reference[k + _halfReference] = (float)(
                Math.Exp(-0.5 * (t / tau) * (t / tau)) * Math.Cos(2 * Math.PI * frequency * t)
            );
        }
        _referenceSign = 1;
        ReferenceIndex = 0;
    }

    /// <summary>Makes an echo of the current A-scan the reference of <see cref="PickRule.Correlation"/>.</summary>
    /// <param name="peak">Its highest sample.</param>
    public void UseEcho(int peak)
    {
        ReadOnlySpan<float> signal = _conditioner.Filtered;
        for (int k = -_halfReference; k <= _halfReference; k++)
        {
            int i = peak + k;
            _reference[k + _halfReference] = i >= 0 && i < signal.Length ? signal[i] : 0;
        }
        _referenceSign = signal[peak] < 0 ? -1 : 1;
        ReferenceIndex = peak;
    }

    /// <summary>The instant, in samples of the record.</summary>
    /// <param name="window">Window that the echo was found in.</param>
    /// <param name="run">The echo.</param>
    /// <param name="rule">What to take.</param>
    /// <param name="flankFraction">Fraction of the peak for a flank; null for the level.</param>
    /// <returns>Position; for a correlation, where the reference's <see cref="ReferenceIndex"/> lies best. NaN when the echo has no such instant.</returns>
    public double Position(in EchoWindow window, in EchoRun run, PickRule rule, double? flankFraction) =>
        rule switch
        {
            PickRule.Flank => flankFraction is { } fraction
                ? FractionFlank(window, run, fraction)
                : LevelFlank(window, run),
            PickRule.Peak => Peak(window.Signal, run.Peak, _signed && window.Signal[run.Peak] < 0),
            PickRule.ZeroCrossing => ZeroCrossingPick.After(window.Signal, run.Peak, window.Signal.Length),
            PickRule.EnvelopePeak => EnvelopePeak(run),
            PickRule.Correlation => Correlation(run, window.Sign),
            _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "Unknown pick rule."),
        };

    /// <summary>Sign of an echo: that of its highest sample; 0 when the signal has lost it.</summary>
    /// <param name="window">Window that the echo was found in.</param>
    /// <param name="run">The echo.</param>
    public int Polarity(in EchoWindow window, in EchoRun run) => _signed ? Math.Sign(window.Signal[run.Peak]) : 0;

    private static double LevelFlank(in EchoWindow window, in EchoRun run)
    {
        int f = run.First;
        if (f == window.First)
            return f;
        double before = (double)window.AmplitudeAt(f - 1) - window.LevelAt(f - 1);
        double after = (double)window.AmplitudeAt(f) - window.LevelAt(f);
        return f - 1 + FlankPick.Between(before, after, 0);
    }

    private static double FractionFlank(in EchoWindow window, in EchoRun run, double fraction)
    {
        double target = fraction * run.AmplitudeFraction;
        int j = run.First;
        if (window.AmplitudeAt(j) >= target)
        {
            while (j > window.First && window.AmplitudeAt(j - 1) >= target)
                j--;
        }
        else
        {
            while (window.AmplitudeAt(j) < target)
                j++;
        }
        if (j == window.First)
            return j;
        double before = window.AmplitudeAt(j - 1);
        double after = window.AmplitudeAt(j);
        return j - 1 + FlankPick.Between(before, after, target);
    }

    // The neighbours of a negative half wave are turned over with it.
    private static double Peak(ReadOnlySpan<float> signal, int m, bool negative) =>
        !negative || m == 0 || m == signal.Length - 1
            ? PeakPick.Refine(signal, m)
            : m + SubSample.Parabola(-(double)signal[m - 1], -(double)signal[m], -(double)signal[m + 1]);

    private double EnvelopePeak(in EchoRun run)
    {
        int samples = _conditioner.Filtered.Length;
        int reach = (int)Math.Floor(_periodSamples + 1e-9);
        int first = reach > 0 ? Math.Max(run.Peak - reach, 0) : run.First;
        int last = reach > 0 ? Math.Min(run.Peak + reach, samples - 1) : run.Last;
        ReadOnlySpan<float> envelope = _conditioner.Envelope(first - 1, last + 2);
        return PeakPick.Refine(envelope, PeakPick.Highest(envelope, first, last + 1, _conditioner.Path));
    }

    private double Correlation(in EchoRun run, int sign)
    {
        ReadOnlySpan<float> signal = _conditioner.Filtered;
        int reach = (int)Math.Floor(_periodSamples + 1e-9);
        int first = Math.Max(run.Peak - reach, 0);
        int last = Math.Min(run.Peak + reach, signal.Length - 1);
        // r of one more position on either side, for the parabola: r_j = sum over k of h_k y_(j+k), zeros outside the record.
        int origin = first - 1;
        int count = last - first + 3;
        Span<float> stretch = _stretch.AsSpan(0, count + 2 * _halfReference);
        for (int i = 0; i < stretch.Length; i++)
        {
            int at = origin - _halfReference + i;
            stretch[i] = at >= 0 && at < signal.Length ? signal[at] : 0;
        }
        Span<float> r = _correlation.AsSpan(0, count);
        Signals.Correlation.Sliding(stretch, _reference, r, _conditioner.Path);
        int asked = sign * _referenceSign;
        int best = 1;
        for (int i = 1; i < count - 1; i++)
        {
            float value = asked == 0 ? Math.Abs(r[i]) : asked * r[i];
            if (value > (asked == 0 ? Math.Abs(r[best]) : asked * r[best]))
                best = i;
        }
        int position = origin + best;
        if (position == 0 || position == signal.Length - 1)
            return position;
        double turn = r[best] < 0 ? -1 : 1;
        return position + SubSample.Parabola(turn * r[best - 1], turn * r[best], turn * r[best + 1]);
    }
}
