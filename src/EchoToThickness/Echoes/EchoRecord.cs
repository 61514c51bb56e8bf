using System.Numerics;
using System.Numerics.Tensors;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Signals;

namespace EchoToThickness.Echoes;

/// <summary>
/// One A-scan prepared for the echo train: filtered analytic signal, envelope, noise, rails, candidates, and a cache of sign tests.
/// Reused from A-scan to A-scan; allocates nothing after construction. Not thread-safe.
/// </summary>
public sealed class EchoRecord
{
    /// <summary>Candidates kept, counted from the interface on.</summary>
    public const int MaximumCandidates = 16;

    /// <summary>An echo weaker than this fraction of the strongest is not a candidate, whatever the noise.</summary>
    private const double DynamicRange = 0.004;

    /// <summary>
    /// The interface reaches this multiple of the noise: a maximum of noise does so once in exp(12.5) independent samples, about one
    /// record in a thousand.
    /// </summary>
    private const double InterfaceRatio = 5;

    private readonly AnalyticFir _filter;
    private readonly double _quantumNoiseFraction;
    private readonly double _noisePerHalf;
    private readonly float[] _samples;
    private readonly float[] _real;
    private readonly float[] _imaginary;
    private readonly float[] _envelope;
    private readonly int[] _peaks;
    private readonly RecordNoise _noise;
    private readonly EchoCandidate[] _candidates = new EchoCandidate[MaximumCandidates];
    private readonly float[] _signs = new float[MaximumCandidates * MaximumCandidates];
    private float _lowRail;
    private float _highRail;
    private bool _lowClipped;
    private bool _highClipped;

    /// <summary>Makes room for records of one length.</summary>
    /// <param name="samples">Samples of an A-scan.</param>
    /// <param name="scale">Lengths in samples.</param>
    /// <param name="quantumFraction">One count of the digitiser as a fraction of full scale; 0 for floating point.</param>
    /// <param name="path">Kernel implementation.</param>
    public EchoRecord(int samples, EchoScale scale, double quantumFraction, KernelPath path)
    {
        ArgumentNullException.ThrowIfNull(scale);
        Scale = scale;
        AnalyticTaps taps = EchoFilter.Design(
            scale.SampleRateHz,
            scale.FrequencyHz,
            scale.BandwidthFraction,
            2 * Math.Max(31, (int)(1.55 * scale.Period)) + 1
        );
        _filter = new AnalyticFir(taps, path);
        double power = 0;
        for (int k = 0; k < taps.Count; k++)
            power += taps.Real[k] * taps.Real[k] + taps.Imaginary[k] * taps.Imaginary[k];
        _quantumNoiseFraction = quantumFraction / Math.Sqrt(12) * Math.Sqrt(power) / 2;
        NoiseGain = Math.Sqrt(power / 2);
        _samples = new float[samples];
        _real = new float[samples];
        _imaginary = new float[samples];
        _envelope = new float[samples];
        _peaks = new int[samples / 2 + 1];
        _noise = new RecordNoise(samples, path);
        _noisePerHalf = _noise.Calibrate(_filter, power, _samples, _real, _imaginary, _envelope);
    }

    /// <summary>Lengths in samples.</summary>
    public EchoScale Scale { get; }

    /// <summary>Noise per quadrature behind the filter over that of one stored sample, for white noise.</summary>
    public double NoiseGain { get; }

    /// <summary>Samples of the record.</summary>
    public int Length => _samples.Length;

    /// <summary>Takes the stored samples as fractions of full scale; fill before <see cref="Prepare"/>.</summary>
    public Span<float> Input => _samples;

    /// <summary>The samples behind <see cref="Prepare"/>: fractions of full scale, their mean removed, not filtered.</summary>
    public ReadOnlySpan<float> Samples => _samples;

    /// <summary>Band-passed record.</summary>
    public ReadOnlySpan<float> Real => _real;

    /// <summary>Its Hilbert transform within the band.</summary>
    public ReadOnlySpan<float> Imaginary => _imaginary;

    /// <summary>Envelope.</summary>
    public ReadOnlySpan<float> Envelope => _envelope;

    /// <summary>
    /// Level of the quietest part of the filtered record, per quadrature, fraction of full scale: what decisions compare echoes with. Noise
    /// differs along a record (grain, ring-down), and the quietest part lies under its mean; see <see cref="NoiseFraction"/>.
    /// </summary>
    public double QuietFraction { get; private set; }

    /// <summary>
    /// Noise per quadrature of the filtered record (standard deviation), fraction of full scale: the mean of the quieter half of sixteen
    /// medians, times the ratio that white noise through the same filter shows. What evidence, signal-to-noise ratios and
    /// uncertainties are stated with; echoes may fill half the record.
    /// </summary>
    public double NoiseFraction { get; private set; }

    /// <summary>Level over which a maximum is a candidate, fraction of full scale.</summary>
    public double CandidateLevelFraction { get; private set; }

    /// <summary>Largest envelope away from the record's ends, fraction of full scale.</summary>
    public double LargestFraction { get; private set; }

    /// <summary>
    /// Level that an interface reaches, fraction of full scale: a fraction of the strongest candidate in the interface's window, and over
    /// what noise reaches; at most that strongest candidate.
    /// </summary>
    public double InterfaceLevelFraction { get; private set; }

    /// <summary>The interface lies before this sample.</summary>
    public int InterfaceEndSamples { get; private set; }

    /// <summary>Candidates in order of time, the first being the first that may be an interface.</summary>
    public ReadOnlySpan<EchoCandidate> Candidates => _candidates.AsSpan(0, Count);

    /// <summary>Number of candidates.</summary>
    public int Count { get; private set; }

    /// <summary>Filters, measures the noise and finds candidates. Saturation is looked at before the offset is removed.</summary>
    /// <param name="candidateLevel">Candidate level as a multiple of the noise.</param>
    /// <param name="interfaceFraction">The first candidate kept reaches this fraction of the strongest in the interface's window.</param>
    /// <param name="searchFrom">First sample looked at: what comes before (transmitted pulse, dead time) is ignored.</param>
    /// <param name="interfaceEnd">The interface lies before this sample.</param>
    /// <param name="pulseEnd">A strong maximum before this sample is the transmitted pulse; 0 when the record does not hold time 0.</param>
    public void Prepare(
        double candidateLevel,
        double interfaceFraction,
        int searchFrom = 0,
        int interfaceEnd = int.MaxValue,
        int pulseEnd = 0
    )
    {
        Filter();
        FindEchoes(candidateLevel, interfaceFraction, searchFrom, interfaceEnd, pulseEnd);
    }

    /// <summary>First half of <see cref="Prepare"/>: rails, offset, filter, envelope and noise, which depend on the samples alone.</summary>
    public void Filter()
    {
        FindRails();
        // The filter passes no offset; taking it out first keeps the record's ends quiet.
        float offset = RecordKernels.Mean(_samples);
        TensorPrimitives.Subtract(_samples, offset, _samples);
        _lowRail -= offset;
        _highRail -= offset;
        _filter.AnalyticSignal(_samples, 0, _real, _imaginary);
        RecordKernels.Modulus(_real, _imaginary, _envelope);
        double largest = Largest(_envelope);
        double least = Math.Max(_quantumNoiseFraction, 1e-6 * largest);
        (double quiet, double half) = _noise.Measure(_envelope);
        QuietFraction = Math.Max(quiet, least);
        NoiseFraction = Math.Max(half * _noisePerHalf, least);
    }

    /// <summary>
    /// Second half of <see cref="Prepare"/>: the candidates. May be called again with other settings for the same filtered record; the answer is
    /// that of <see cref="Prepare"/> with these settings.
    /// </summary>
    /// <param name="candidateLevel">Candidate level as a multiple of the noise.</param>
    /// <param name="interfaceFraction">The first candidate kept reaches this fraction of the strongest in the interface's window.</param>
    /// <param name="searchFrom">First sample looked at.</param>
    /// <param name="interfaceEnd">The interface lies before this sample.</param>
    /// <param name="pulseEnd">A strong maximum before this sample is the transmitted pulse; 0 when the record does not hold time 0.</param>
    public void FindEchoes(
        double candidateLevel,
        double interfaceFraction,
        int searchFrom = 0,
        int interfaceEnd = int.MaxValue,
        int pulseEnd = 0
    )
    {
        searchFrom = Math.Clamp(searchFrom, 0, Length);
        InterfaceEndSamples = interfaceEnd;
        searchFrom = Math.Max(searchFrom, EndOfPulse(pulseEnd, interfaceFraction));
        int start = Math.Max(8, searchFrom);
        LargestFraction = Length - 8 > start ? Largest(_envelope.AsSpan(start, Length - 8 - start)) : 0;
        CandidateLevelFraction = Math.Max(candidateLevel * QuietFraction, DynamicRange * LargestFraction);
        Count = 0;
        InterfaceLevelFraction = 0;
        if (LargestFraction > 0)
            FindCandidates(interfaceFraction, Math.Max(5, searchFrom));
        _signs.AsSpan(0, Count * MaximumCandidates).Fill(float.NaN);
    }

    /// <summary>Whether any sample within a half window of a candidate lies at a rail.</summary>
    /// <param name="candidate">Index into <see cref="Candidates"/>.</param>
    public bool IsClipped(int candidate)
    {
        if (!_lowClipped && !_highClipped)
            return false;
        int centre = _candidates[candidate].Sample;
        int from = Math.Max(0, centre - Scale.PulseHalfWindow);
        int to = Math.Min(Length, centre + Scale.PulseHalfWindow);
        for (int i = from; i < to; i++)
        {
            if ((_lowClipped && _samples[i] == _lowRail) || (_highClipped && _samples[i] == _highRail))
                return true;
        }
        return false;
    }

    /// <summary>
    /// Relative sign of two echoes: cosine of the phase of their short complex correlation at its strongest lag; +1 same, -1 opposite.
    /// Soft, because diffraction turns the phase by up to 45 degrees and scatter by more.
    /// </summary>
    /// <param name="first">Index into <see cref="Candidates"/>.</param>
    /// <param name="second">Index into <see cref="Candidates"/>.</param>
    public double Sign(int first, int second)
    {
        ref float cached = ref _signs[first * MaximumCandidates + second];
        if (float.IsNaN(cached))
        {
            (double real, double imaginary) = StrongestCorrelation(
                _candidates[first].Sample,
                _candidates[second].Sample
            );
            double magnitude = Math.Sqrt(real * real + imaginary * imaginary);
            cached = magnitude > 0 ? (float)(real / magnitude) : 0;
        }
        return cached;
    }

    /// <summary>The candidate nearest to a position; the earlier of equals. There must be at least one candidate.</summary>
    /// <param name="positionSamples">Position, samples.</param>
    public int Nearest(double positionSamples)
    {
        int best = 0;
        double distance = double.PositiveInfinity;
        for (int q = 0; q < Count; q++)
        {
            double d = Math.Abs(_candidates[q].PositionSamples - positionSamples);
            if (d < distance)
            {
                distance = d;
                best = q;
            }
            else if (_candidates[q].PositionSamples > positionSamples)
                break;
        }
        return best;
    }

    private (double Real, double Imaginary) StrongestCorrelation(int first, int second)
    {
        int low = Math.Max(0, first - Scale.SignHalfWindow);
        int high = Math.Min(Length, first + Scale.SignHalfWindow + 1);
        double bestReal = 0;
        double bestImaginary = 0;
        double best = -1;
        for (int lag = -Scale.SignLags; lag <= Scale.SignLags; lag++)
        {
            int start = low + second - first + lag;
            if (start < 0 || start + high - low > Length)
                continue;
            (double real, double imaginary) = EchoCorrelation.Complex(_real, _imaginary, low, start, high - low);
            double power = real * real + imaginary * imaginary;
            if (power > best)
                (best, bestReal, bestImaginary) = (power, real, imaginary);
        }
        return (bestReal, bestImaginary);
    }

    /// <summary>
    /// A rail is an extreme value that at least three samples take, two of them in a row: digitisers clip flat, noise does not.
    /// </summary>
    private void FindRails()
    {
        _lowRail = TensorPrimitives.Min<float>(_samples);
        _highRail = TensorPrimitives.Max<float>(_samples);
        _lowClipped = IsRail(_lowRail);
        _highClipped = _highRail > _lowRail && IsRail(_highRail);
    }

    private bool IsRail(float value)
    {
        int count = 0;
        bool adjacent = false;
        int previous = -2;
        ReadOnlySpan<float> rest = _samples;
        int at = 0;
        while (true)
        {
            int found = rest[at..].IndexOf(value);
            if (found < 0)
                break;
            at += found;
            count++;
            adjacent |= at == previous + 1;
            previous = at;
            at++;
        }
        return count >= 3 && adjacent;
    }

    /// <summary>
    /// First sample behind the transmitted pulse and its ring-down: where the envelope has fallen under what would be an interface among
    /// the echoes still to come. 0 when there is no such pulse.
    /// </summary>
    private int EndOfPulse(int pulseEnd, double interfaceFraction)
    {
        ReadOnlySpan<float> e = _envelope;
        int reach = Math.Min(pulseEnd, e.Length);
        if (reach <= 0)
            return 0;
        int peak = TensorPrimitives.IndexOfMax(e[..reach]);
        // Still rising at the end of the window: the flank of something later. Weak: nothing that could be taken for the interface.
        if (
            (peak == reach - 1 && reach < e.Length && e[reach] > e[peak])
            || e[peak] < interfaceFraction * Largest(e[reach..])
        )
            return 0;
        // From the back, with the largest of what follows at hand: the first place from the peak on that is quiet against the rest.
        int end = e.Length;
        float rest = 0;
        for (int i = e.Length - 1; i >= peak; i--)
        {
            rest = Math.Max(rest, e[i]);
            if (e[i] < interfaceFraction * rest)
                end = i;
        }
        return end;
    }

    private void FindCandidates(double interfaceFraction, int searchFrom)
    {
        int peaks = FindPeaks((float)CandidateLevelFraction, searchFrom);
        if (peaks == 0)
            return;
        float strongest = 0;
        foreach (int k in _peaks.AsSpan(0, peaks))
        {
            if (k < InterfaceEndSamples)
                strongest = Math.Max(strongest, _envelope[k]);
        }
        // No echo in the interface's window: everything is kept, the interface may not have been recorded.
        int first = 0;
        InterfaceLevelFraction = Math.Min(
            strongest,
            Math.Max(interfaceFraction * strongest, InterfaceRatio * NoiseFraction)
        );
        while (strongest > 0 && _envelope[_peaks[first]] < InterfaceLevelFraction)
            first++;
        Span<int> kept = _peaks.AsSpan(first, peaks - first);
        if (kept.Length > MaximumCandidates)
            kept = KeepStrongest(kept);
        Count = kept.Length;
        for (int i = 0; i < kept.Length; i++)
        {
            int k = kept[i];
            double before = _envelope[k - 1];
            double middle = _envelope[k];
            double after = _envelope[k + 1];
            double curvature = before - 2 * middle + after;
            double shift = curvature == 0 ? 0 : 0.5 * (before - after) / curvature;
            _candidates[i] = new EchoCandidate(k, k + shift, middle);
        }
    }

    /// <summary>Drops all but the strongest (the earlier of equals stays), order of time kept.</summary>
    private Span<int> KeepStrongest(Span<int> peaks)
    {
        int count = peaks.Length;
        while (count > MaximumCandidates)
        {
            int weakest = 0;
            for (int i = 1; i < count; i++)
            {
                if (_envelope[peaks[i]] <= _envelope[peaks[weakest]])
                    weakest = i;
            }
            peaks[(weakest + 1)..count].CopyTo(peaks[weakest..]);
            count--;
        }
        return peaks[..count];
    }

    /// <summary>Local maxima over a level, five samples or more from the ends; of equals in a row the last.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private int FindPeaks(float level, int from)
    {
        ReadOnlySpan<float> e = _envelope;
        Vector512<float> threshold = Vector512.Create(level);
        int count = 0;
        int end = e.Length - 5;
        int k = from;
        for (; k + 16 <= end; k += 16)
        {
            Vector512<float> here = Vector512.Create(e.Slice(k, 16));
            Vector512<float> over = Vector512.GreaterThan(here, threshold);
            if (over == Vector512<float>.Zero)
                continue;
            Vector512<float> falls = Vector512.GreaterThan(here, Vector512.Create(e.Slice(k + 1, 16)));
            Vector512<float> rises = Vector512.GreaterThanOrEqual(here, Vector512.Create(e.Slice(k - 1, 16)));
            ulong bits = (over & falls & rises).ExtractMostSignificantBits();
            for (; bits != 0; bits &= bits - 1)
                _peaks[count++] = k + BitOperations.TrailingZeroCount(bits);
        }
        for (; k < end; k++)
        {
            if (e[k] > level && e[k] > e[k + 1] && e[k] >= e[k - 1])
                _peaks[count++] = k;
        }
        return count;
    }

    private static float Largest(ReadOnlySpan<float> values) => values.IsEmpty ? 0 : TensorPrimitives.Max(values);
}
