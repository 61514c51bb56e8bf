using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Conditioning;

/// <summary>
/// Brings one A-scan after another from its stored form to the signal that interface and gates look at: saturation, invalid samples,
/// average over neighbours, offset, band-pass, rectification or envelope, noise. Exact definitions: docs/gating.md, section 2.
/// One instance a thread; allocates nothing per A-scan. The envelope is computed only where it is asked for.
/// </summary>
public sealed class AScanConditioner
{
    private readonly StackInfo _stack;
    private readonly ConditioningSettings _settings;
    private readonly int _averageBeams;
    private readonly int _averageScans;
    private readonly bool _storedRectified;
    private readonly float[] _raw;
    private readonly float[] _input;
    private readonly float[] _neighbour;
    private readonly float[] _filtered;
    private readonly float[] _signal;
    private readonly float[] _envelope;
    private readonly RealFir? _bandPass;
    private readonly AnalyticFir _analytic;
    private int _envelopeFirst;
    private int _envelopeEnd;
    private double _noise;

    /// <summary>Prepares for the A-scans of one stack.</summary>
    /// <param name="stack">The stack.</param>
    /// <param name="settings">What to do.</param>
    /// <param name="path">Implementation of the kernels; null for the fastest. All give the same picks.</param>
    /// <remarks>Settings that contradict each other or the stack are reported by <see cref="ProcedureCheck"/>; it is not asked again here.</remarks>
    public AScanConditioner(StackInfo stack, ConditioningSettings settings, KernelPath? path = null)
    {
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(settings);
        _stack = stack;
        _settings = settings;
        Path = path ?? KernelPaths.Best;
        _storedRectified = stack.Acquisition.Form == SignalForm.Rectified;
        int samples = stack.Shape.Samples;
        SampleRateHz = stack.TimeBase.SampleRateHz;
        _averageBeams = stack.Neighbours.HasFlag(NeighbourAxes.Beam) ? settings.AverageBeams : 1;
        _averageScans = stack.Neighbours.HasFlag(NeighbourAxes.Scan) ? settings.AverageScans : 1;
        _raw = new float[samples];
        _input = new float[samples];
        _neighbour = new float[samples];
        _filtered = new float[samples];
        _signal = new float[samples];
        _envelope = new float[samples];
        Saturation = new SaturationRuns(samples);
        if (settings.BandLowHz is { } low && settings.BandHighHz is { } high)
        {
            AnalyticTaps taps = FirDesign.AnalyticBandPass(settings.Taps, low, high, SampleRateHz);
            _bandPass = new RealFir(taps.Real, Path);
            _analytic = new AnalyticFir(taps, Path);
            CentreFrequencyHz = 0.5 * (low + high);
        }
        else
        {
            _analytic = new AnalyticFir(HilbertTransformer(settings.Taps), Path);
            CentreFrequencyHz = stack.Acquisition.FrequencyHz;
        }
        PeriodSeconds = CentreFrequencyHz is { } centre ? 1 / centre : 0;
    }

    /// <summary>Implementation of the kernels.</summary>
    public KernelPath Path { get; }

    /// <summary>Samples a second.</summary>
    public double SampleRateHz { get; }

    /// <summary>Whether the signal looked at has its sign (rf).</summary>
    public bool IsSigned => !_storedRectified && _settings.Signal == SignalChoice.RadioFrequency;

    /// <summary>Centre of the pass band, else the stack's nominal frequency, hertz; null when neither is known.</summary>
    public double? CentreFrequencyHz { get; }

    /// <summary>One period of <see cref="CentreFrequencyHz"/>, seconds; 0 when it is not known.</summary>
    public double PeriodSeconds { get; }

    /// <summary>Scan positions on either side that the running average needs.</summary>
    public int HaloScans => _averageScans / 2;

    /// <summary>Beams on either side that the running average needs.</summary>
    public int HaloBeams => _averageBeams / 2;

    /// <summary>Where the A-scan's stored samples are cut off at the rails.</summary>
    public SaturationRuns Saturation { get; }

    /// <summary>Shape [sample]: the stored samples of the cell as fractions of full scale.</summary>
    public ReadOnlySpan<float> Raw => _raw;

    /// <summary>Shape [sample]: averaged, freed of offset and band-passed, with its sign.</summary>
    public ReadOnlySpan<float> Filtered => _filtered;

    /// <summary>Robust standard deviation of <see cref="Filtered"/> about zero, fraction of full scale; measured when first asked for.</summary>
    public double NoiseFraction
    {
        get
        {
            if (double.IsNaN(_noise))
                _noise = RobustNoise.GaussianFactor * RobustNoise.MedianDeviation(_filtered, 0, Path);
            return _noise;
        }
    }

    /// <summary>Conditions one A-scan; results hold until the next call.</summary>
    /// <param name="block">A-scans that cover the cell and, within the stack, its <see cref="HaloScans"/> and <see cref="HaloBeams"/>.</param>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    /// <returns>Whether the A-scan can be looked at. Raw samples are set even when they are invalid.</returns>
    /// <exception cref="ArgumentException">The block does not cover the cell or a neighbour that the average needs.</exception>
    public AScanCondition Condition(in AScanBlock block, int scan, int beam)
    {
        _noise = double.NaN;
        _envelopeFirst = _envelopeEnd = 0;
        int scanInBlock = scan - block.FirstScan;
        int beamInBlock = beam - block.FirstBeam;
        Covers(block, scan, beam);
        if (!block.IsPresent(scanInBlock, beamInBlock))
        {
            Array.Clear(_raw);
            Saturation.Detect([], _stack.SampleType, _stack.Amplitude, 0);
            return AScanCondition.NotScanned;
        }
        ReadOnlySpan<byte> bytes = block.AScanBytes(scanInBlock, beamInBlock);
        Saturation.Detect(bytes, _stack.SampleType, _stack.Amplitude, _settings.SaturationSamples);
        if (!ToFractions(bytes, _raw))
            return AScanCondition.InvalidSamples;
        Average(block, scan, beam);
        if (_settings.RemoveOffset && !_storedRectified)
            RemoveMean(_input);
        if (_bandPass is null)
            _input.CopyTo(_filtered, 0);
        else
            _bandPass.Same(_input, 0, _filtered);
        if (_settings.Signal == SignalChoice.Rectified)
        {
            for (int i = 0; i < _signal.Length; i++)
                _signal[i] = Math.Abs(_filtered[i]);
        }
        return AScanCondition.Ready;
    }

    /// <summary>The signal that interface and gates look at; valid (at least) in the range asked for.</summary>
    /// <param name="first">First sample needed.</param>
    /// <param name="end">One past the last sample needed.</param>
    /// <returns>Shape [sample]; samples outside the range may hold anything.</returns>
    public ReadOnlySpan<float> Signal(int first, int end) =>
        _settings.Signal switch
        {
            _ when _storedRectified => _filtered,
            SignalChoice.RadioFrequency => _filtered,
            SignalChoice.Rectified => _signal,
            _ => Envelope(first, end),
        };

    /// <summary>The envelope of <see cref="Filtered"/>; valid (at least) in the range asked for.</summary>
    /// <param name="first">First sample needed.</param>
    /// <param name="end">One past the last sample needed.</param>
    /// <returns>Shape [sample]; samples outside the range may hold anything.</returns>
    public ReadOnlySpan<float> Envelope(int first, int end)
    {
        if (_storedRectified)
            return _filtered;
        first = Math.Max(first, 0);
        end = Math.Min(end, _envelope.Length);
        if (first >= end)
            return _envelope;
        if (_envelopeFirst == _envelopeEnd)
        {
            Compute(first, end);
            (_envelopeFirst, _envelopeEnd) = (first, end);
            return _envelope;
        }
        if (first < _envelopeFirst)
        {
            Compute(first, _envelopeFirst);
            _envelopeFirst = first;
        }
        if (end > _envelopeEnd)
        {
            Compute(_envelopeEnd, end);
            _envelopeEnd = end;
        }
        return _envelope;
    }

    private void Compute(int first, int end) => _analytic.Envelope(_input, first, _envelope.AsSpan(first, end - first));

    private bool ToFractions(ReadOnlySpan<byte> bytes, float[] fractions)
    {
        StoredSamples.ToFractions(bytes, _stack.SampleType, _stack.Amplitude, fractions, Path);
        return _stack.SampleType is not (SampleType.Float32 or SampleType.Float64) || IsFinite(fractions);
    }

    private static bool IsFinite(ReadOnlySpan<float> values)
    {
        foreach (float value in values)
        {
            if (!float.IsFinite(value))
                return false;
        }
        return true;
    }

    private void Average(in AScanBlock block, int scan, int beam)
    {
        _raw.CopyTo(_input, 0);
        if (_averageBeams == 1 && _averageScans == 1)
            return;
        Array.Clear(_input);
        int taken = 0;
        int lastScan = Math.Min(scan + HaloScans, _stack.Shape.Scans - 1);
        int lastBeam = Math.Min(beam + HaloBeams, _stack.Shape.Beams - 1);
        for (int s = Math.Max(scan - HaloScans, 0); s <= lastScan; s++)
        {
            for (int b = Math.Max(beam - HaloBeams, 0); b <= lastBeam; b++)
            {
                int sIn = s - block.FirstScan;
                int bIn = b - block.FirstBeam;
                if (!block.IsPresent(sIn, bIn))
                    continue;
                if (!ToFractions(block.AScanBytes(sIn, bIn), _neighbour))
                    continue;
                NeighbourAverage.Add(_neighbour, _input, Path);
                taken++;
            }
        }
        NeighbourAverage.Scale(_input, 1f / taken, Path);
    }

    private static void RemoveMean(float[] samples)
    {
        double sum = 0;
        foreach (float sample in samples)
            sum += sample;
        float mean = (float)(sum / samples.Length);
        for (int i = 0; i < samples.Length; i++)
            samples[i] -= mean;
    }

    // Type III linear-phase Hilbert transformer, 2 / (pi k) at odd k, under a Hamming window; the real part passes the record as it is.
    private static AnalyticTaps HilbertTransformer(int taps)
    {
        int half = taps / 2;
        double[] window = FirWindow.Hamming(taps);
        var real = new double[taps];
        var imaginary = new double[taps];
        real[half] = 1;
        for (int k = -half; k <= half; k++)
        {
            if (k % 2 != 0)
                imaginary[k + half] = 2 / (Math.PI * k) * window[k + half];
        }
        return new AnalyticTaps(real, imaginary);
    }

    private void Covers(in AScanBlock block, int scan, int beam)
    {
        int firstScan = Math.Max(scan - HaloScans, 0);
        int lastScan = Math.Min(scan + HaloScans, _stack.Shape.Scans - 1);
        int firstBeam = Math.Max(beam - HaloBeams, 0);
        int lastBeam = Math.Min(beam + HaloBeams, _stack.Shape.Beams - 1);
        if (
            firstScan < block.FirstScan
            || lastScan >= block.FirstScan + block.ScanCount
            || firstBeam < block.FirstBeam
            || lastBeam >= block.FirstBeam + block.BeamCount
        )
            throw new ArgumentException(
                $"Cell ({scan}, {beam}) needs scans {firstScan}..{lastScan} and beams {firstBeam}..{lastBeam}; the block holds scans "
                    + $"{block.FirstScan}..{block.FirstScan + block.ScanCount - 1} and beams {block.FirstBeam}..{block.FirstBeam + block.BeamCount - 1}.",
                nameof(block)
            );
    }
}
