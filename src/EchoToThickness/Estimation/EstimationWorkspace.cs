using EchoToThickness.Echoes;
using EchoToThickness.Procedures;

namespace EchoToThickness.Estimation;

/// <summary>
/// Everything an estimator reads and all the scratch it needs, for one thread. Begun once per record; spectra are made when first asked
/// for. Allocates nothing after construction.
/// </summary>
public sealed class EstimationWorkspace
{
    private readonly EchoSpectrum _spectrum;
    private bool _spectrumReady;
    private EchoRecord? _record;

    /// <summary>Makes room for records of one length.</summary>
    /// <param name="samples">Samples of an A-scan.</param>
    /// <param name="scale">Lengths in samples.</param>
    /// <param name="reference">Reference echo of filters and fits.</param>
    /// <param name="calibrationEcho">Samples of the calibration echo; empty unless it is the reference.</param>
    public EstimationWorkspace(
        int samples,
        EchoScale scale,
        EchoReference reference,
        ReadOnlySpan<double> calibrationEcho
    )
    {
        ArgumentNullException.ThrowIfNull(scale);
        Scale = scale;
        _spectrum = new EchoSpectrum(samples, scale, reference, calibrationEcho);
        Scores = new double[24 * samples + 64];
        Sparse = new SparseFit(_spectrum);
        Gabor = new GaborFit(samples);
    }

    /// <summary>Lengths in samples.</summary>
    public EchoScale Scale { get; }

    /// <summary>The record, prepared.</summary>
    public EchoRecord Record =>
        _record ?? throw new InvalidOperationException("The workspace has not been begun with a record.");

    /// <summary>Sample of the interface's envelope peak.</summary>
    public int Front { get; private set; }

    /// <summary>Smallest spacing searched, samples.</summary>
    public double Low { get; private set; }

    /// <summary>Largest spacing searched, samples; cut where the record ends.</summary>
    public double High { get; private set; }

    /// <summary>Standard deviation of the noise of one stored sample if it is white, fraction of full scale.</summary>
    public double WhiteNoiseFraction { get; private set; }

    /// <summary>The spectrum of record and reference about the interface.</summary>
    public EchoSpectrum Spectrum
    {
        get
        {
            if (!_spectrumReady)
            {
                int echo = FirstStrongEcho(0.5);
                _spectrum.Load(Record, Front, echo < 0 ? Low : echo - Front);
                _spectrumReady = true;
            }
            return _spectrum;
        }
    }

    internal double[] Scores { get; }

    internal SparseFit Sparse { get; }

    internal GaborFit Gabor { get; }

    /// <summary>Takes a record.</summary>
    /// <param name="record">Prepared, with at least one candidate.</param>
    /// <param name="frontCandidate">Index of the interface among its candidates.</param>
    /// <param name="lowSamples">Smallest spacing to search.</param>
    /// <param name="highSamples">Largest spacing to search.</param>
    public void Begin(EchoRecord record, int frontCandidate, double lowSamples, double highSamples)
    {
        ArgumentNullException.ThrowIfNull(record);
        _record = record;
        Front = record.Candidates[frontCandidate].Sample;
        Low = lowSamples;
        High = Math.Min(highSamples, record.Length - 1 - Front - 1.2 * Scale.PulseSigma);
        WhiteNoiseFraction = record.NoiseFraction / record.NoiseGain;
        _spectrumReady = false;
    }

    /// <summary>
    /// Envelope peak of the first strong echo of the range: the first local maximum that reaches a fraction of the strongest.
    /// </summary>
    /// <param name="fraction">Fraction of the strongest.</param>
    /// <returns>Its sample; -1 when the range holds none.</returns>
    public int FirstStrongEcho(double fraction)
    {
        ReadOnlySpan<float> envelope = Record.Envelope;
        int first = Math.Max(Front + (int)Math.Ceiling(Low - 1), 1);
        int end = Math.Min(Front + (int)Math.Floor(High + 1) + 1, envelope.Length - 1);
        float strongest = 0;
        for (int i = first; i < end; i++)
        {
            if (IsPeak(envelope, i))
                strongest = Math.Max(strongest, envelope[i]);
        }
        for (int i = first; i < end; i++)
        {
            if (IsPeak(envelope, i) && envelope[i] >= fraction * strongest)
                return i;
        }
        return -1;
    }

    /// <summary>Cramér-Rao bound of the spacing of two echoes, samples: independent times, <c>sqrt(1/a^2 + 1/b^2)</c> times that of amplitude 1.</summary>
    /// <param name="firstFraction">Amplitude of the earlier echo.</param>
    /// <param name="secondFraction">Amplitude of the later echo.</param>
    public double PairBound(double firstFraction, double secondFraction) =>
        TimeBound(1) * Math.Sqrt(1 / (firstFraction * firstFraction) + 1 / (secondFraction * secondFraction));

    /// <summary>Cramér-Rao bound of the spacing of a train anchored at its interface, samples.</summary>
    /// <param name="frontFraction">Amplitude of the interface.</param>
    /// <param name="wallFraction">Amplitude of back-wall echo 1.</param>
    /// <param name="decay">Strength of an echo against the one before.</param>
    /// <param name="firstOrder">0: times against the interface; 1: from wall to wall.</param>
    /// <param name="lastOrder">Order of the last echo.</param>
    public double TrainBound(double frontFraction, double wallFraction, double decay, int firstOrder, int lastOrder)
    {
        // Weighted line of time over order: 1 / (S2 - S1^2 / S0), S_k = sum of a^2 n^k.
        double s0 = firstOrder == 0 ? frontFraction * frontFraction : 0;
        double s1 = 0;
        double s2 = 0;
        double power = wallFraction * wallFraction;
        for (int n = 1; n <= lastOrder; n++, power *= decay * decay)
        {
            s0 += power;
            s1 += n * power;
            s2 += (double)n * n * power;
        }
        double spread = s2 - s1 * s1 / s0;
        return spread > 0 ? TimeBound(1) / Math.Sqrt(spread) : double.NaN;
    }

    /// <summary>Cramér-Rao bound of one echo's time in white noise for the nominal Gaussian pulse, samples.</summary>
    /// <param name="amplitudeFraction">Its amplitude in the record's envelope.</param>
    public double TimeBound(double amplitudeFraction)
    {
        // A Gaussian pulse leaves a Gaussian filter w times as wide with 1 / sqrt(1 + 1 / w^2) of its height.
        const double filterGain = 1 / (EchoFilter.WidthRatio * EchoFilter.WidthRatio);
        amplitudeFraction *= Math.Sqrt(1 + filterGain);
        // Energy of exp(-t^2 / 2 s^2) cos: s sqrt(pi) / 2 samples.
        double energy = Scale.PulseSigma * Math.Sqrt(Math.PI) / 2;
        double angular = 2 * Math.PI * Scale.RmsFrequencyHz / Scale.SampleRateHz;
        return WhiteNoiseFraction / (amplitudeFraction * angular * Math.Sqrt(energy));
    }

    internal static bool IsPeak(ReadOnlySpan<float> values, int i) =>
        values[i] > values[i + 1] && values[i] >= values[i - 1];
}
