using EchoToThickness.Signals;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// The receiver and digitiser of a scene: turns the clean signal of a cell into what is stored. Immutable, allocation-free per cell, the
/// same bytes on any number of threads.
/// </summary>
/// <remarks>
/// Order: grain noise (it is signal), gain steps on all signal, electronic noise, interference, transmitted pulse, dead time, digitiser.
/// Electronic noise has the receiver's band (or is white) and is told at the digitiser, so that a gain step changes the echoes and not the noise where
/// <see cref="InstrumentSection.NoiseFraction"/> rules; a real receiver is between the two. Averaging N acquisitions divides electronic
/// noise, trigger jitter and the height of spikes by √N, √N and N; spikes become N times as many. The jitter's loss of amplitude in the
/// average is neglected (0.4 % at 7 MHz and 2 ns).
/// </remarks>
public sealed class Instrument
{
    /// <summary>Positions on a border count by the plain number, not by its last bit (metres and fractions of a line).</summary>
    private const double Rounding = 1e-9;
    private readonly InstrumentSection _settings;
    private readonly IReadOnlyList<FaultEntry> _gainFaults;
    private readonly GrainField? _grain;
    private readonly Digitiser _digitiser;
    private readonly SceneTimeBase _time;
    private readonly double _frequencyHz;
    private readonly double _scanPitchMetres;
    private readonly double _grainRms;
    private readonly double _noise;
    private readonly ReceiverNoise? _receiver;
    private readonly ulong _seed;

    private Instrument(Scene scene, SceneTimeBase time, double backWallFraction)
    {
        _settings = scene.Instrument;
        _time = time;
        _seed = (ulong)(scene.Header.NoiseSeed ?? scene.Header.Seed);
        _frequencyHz = scene.Array.FrequencyHz;
        _scanPitchMetres = scene.Scan.PitchMetres;
        _digitiser = new Digitiser(_settings.Bits, _settings.Form == StoredForm.Rectified);
        _gainFaults = [.. scene.Faults.Where(f => f.Kind == FaultKind.GainStep)];
        double shot = _settings.SignalToNoiseDecibels is { } decibels
            ? backWallFraction * Math.Pow(10, -decibels / 20)
            : _settings.NoiseFraction;
        _noise = shot / Math.Sqrt(_settings.Averages);
        if (_noise > 0 && ReceiverBand.Of(scene, time.SampleRateHz) is { } band)
            _receiver = new ReceiverNoise(band, time.SampleRateHz, _noise, KernelPaths.Best);
        _grainRms = _settings.GrainNoiseFraction * _settings.InterfaceAmplitudeFraction;
        if (_grainRms > 0)
        {
            // Grain is of the metal: another scan hears it again.
            _grain = new GrainField(
                (ulong)scene.Header.Seed,
                _frequencyHz,
                scene.Array.BandwidthFraction,
                _settings.GrainCorrelationMetres,
                _settings.GrainDecayDecibelsPerMetre * scene.Material.VelocityMetresPerSecond / 2,
                time.SampleRateHz,
                time.Samples
            );
        }
    }

    /// <summary>Works out the instrument of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="time">Its time base.</param>
    /// <param name="backWallFraction">
    /// Peak of the first back-wall echo of a sound flat cell of nominal wall, fraction of full scale; needed where the noise is given by
    /// <see cref="InstrumentSection.SignalToNoiseDecibels"/>.
    /// </param>
    /// <exception cref="ArgumentException">The noise is given against the back wall, and its amplitude is missing.</exception>
    public static Instrument Compile(Scene scene, SceneTimeBase time, double backWallFraction = double.NaN)
    {
        ArgumentNullException.ThrowIfNull(scene);
        if (scene.Instrument.SignalToNoiseDecibels is not null && !(backWallFraction > 0))
            throw new ArgumentException(
                "The noise is given against the back-wall echo, and its amplitude is missing.",
                nameof(backWallFraction)
            );
        return new Instrument(scene, time, backWallFraction);
    }

    /// <summary>Type of the stored samples.</summary>
    public SampleType SampleType => _digitiser.SampleType;

    /// <summary>Scale and rails of the stored samples.</summary>
    public AmplitudeScale Amplitude => _digitiser.Amplitude;

    /// <summary>Whether radio-frequency or rectified samples are stored.</summary>
    public SignalForm Form => _digitiser.Form;

    /// <summary>Standard deviation of the electronic noise in a stored A-scan (after averaging), fraction of full scale.</summary>
    public double NoiseFraction => _noise;

    /// <summary>How much denser the electronic noise is at a frequency than white noise of the same standard deviation, amplitude.</summary>
    /// <param name="frequencyHz">Frequency, hertz.</param>
    /// <returns>1 for white noise.</returns>
    public double NoiseDensityAt(double frequencyHz) => _receiver is null ? 1 : _receiver.GainAt(frequencyHz) / _noise;

    /// <summary>How late the pulse of a cell leaves against the record's clock; add it to every arrival.</summary>
    /// <param name="line">Line as it was acquired.</param>
    /// <param name="scan">Scan position as it was acquired.</param>
    /// <param name="beam">Beam.</param>
    /// <returns>Seconds, of either sign.</returns>
    public double TriggerDelaySeconds(int line, int scan, int beam) =>
        _settings.TriggerJitterSeconds > 0
            ? _settings.TriggerJitterSeconds
                / Math.Sqrt(_settings.Averages)
                * NormalNoise.First(_seed, Streams.Of(RandomStream.TriggerJitter, line, scan, beam))
            : 0;

    /// <summary>Gain of a cell against the scene's.</summary>
    /// <param name="line">Line, counted from 0.</param>
    /// <param name="scan">Scan position, counted from 0.</param>
    /// <param name="lineFraction">Part of the line before it.</param>
    /// <returns>Decibels.</returns>
    public double GainDecibels(int line, int scan, double lineFraction)
    {
        double gain = 0;
        foreach (GainStep step in _settings.GainSteps)
        {
            if (IsOn(step.Lines, line) && lineFraction >= step.FromFraction && lineFraction < Past(step.ToFraction))
                gain += step.GainDecibels;
        }
        foreach (FaultEntry fault in _gainFaults)
        {
            if (!IsOn(fault.Lines, line) || lineFraction < fault.AtFraction - Rounding)
                continue;
            // Travel behind the place of the fault: the line before here is scan steps long.
            double travel = lineFraction > 0 ? scan * _scanPitchMetres * (1 - fault.AtFraction / lineFraction) : 0;
            if (travel < fault.SizeMetres - Rounding)
                gain += fault.LevelDecibels;
        }
        return gain;
    }

    /// <summary>Finishes one A-scan.</summary>
    /// <param name="cell">The cell.</param>
    /// <param name="samples">Shape [sample]; clean signal in fractions of full scale; used as scratch, holds counts afterwards.</param>
    /// <param name="stored">Samples × bytes of <see cref="SampleType"/>; takes the counts, little-endian.</param>
    public InstrumentFacts Finish(in InstrumentCell cell, Span<float> samples, Span<byte> stored)
    {
        PlantedFailure labels = PlantedFailure.None;
        if (_grain is not null && double.IsFinite(cell.InterfaceSeconds))
        {
            double place = (cell.InterfaceSeconds - _time.StartSeconds) * _time.SampleRateHz;
            double rms = _grainRms * cell.CoupledFraction * cell.CoupledFraction;
            _grain.Add(samples, cell.AlongMetres, cell.AroundMetres, place, rms);
        }
        double gain = cell.GainDecibels + GainDecibels(cell.Line, cell.Scan, cell.LineFraction);
        if (gain != 0)
        {
            Scale(samples, (float)Math.Pow(10, gain / 20));
            labels |= PlantedFailure.GainStep;
        }
        ulong stream = Streams.Of(RandomStream.Noise, cell.Line, cell.Scan, cell.Beam);
        if (_receiver is not null)
            _receiver.Add(samples, _seed, stream);
        else if (_noise > 0)
            NormalNoise.Add(samples, (float)_noise, _seed, stream);
        if (AddSpikes(cell, samples))
            labels |= PlantedFailure.Spike;
        AddInitialPulse(cell.DelaySeconds, samples);
        Shut(cell.DelaySeconds, samples);
        return new InstrumentFacts(_digitiser.Store(samples, stored), gain, labels);
    }

    private static bool IsOn(IReadOnlyList<int> lines, int line) => lines.Count == 0 || lines.Contains(line + 1);

    private static double Past(double fraction) => fraction >= 1 ? double.PositiveInfinity : fraction;

    private static void Scale(Span<float> samples, float factor)
    {
        for (int i = 0; i < samples.Length; i++)
            samples[i] *= factor;
    }

    private bool AddSpikes(in InstrumentCell cell, Span<float> samples)
    {
        if (_settings.SpikeRate <= 0 && cell.PlantedSpikeFraction <= 0)
            return false;
        ulong stream = Streams.Of(RandomStream.Spikes, cell.Line, cell.Scan, cell.Beam);
        // Above 500 events in one A-scan the record is full of them; the average is capped there.
        double mean = Math.Min(_settings.SpikeRate * _settings.Averages, 500);
        int count = Poisson.Draw(mean, CounterNoise.Uniform(_seed, stream, 0));
        double largest = 0;
        for (int i = 0; i <= count; i++)
        {
            double peak =
                i == count
                    ? cell.PlantedSpikeFraction
                    : _settings.SpikeAmplitudeFraction
                        / _settings.Averages
                        * (0.5 + 0.5 * CounterNoise.Uniform(_seed, stream, 3 * (ulong)i + 1));
            double place = CounterNoise.Uniform(_seed, stream, 3 * (ulong)i + 2) * samples.Length;
            double sign = CounterNoise.Uniform(_seed, stream, 3 * (ulong)i + 3) < 0.5 ? -1 : 1;
            AddSpike(samples, place, sign * peak);
            largest = Math.Max(largest, peak);
        }
        return largest > 3 * _noise;
    }

    // A steep front and a ringing tail at a quarter of the sample rate: the shape of a switching transient behind an input filter.
    private void AddSpike(Span<float> samples, double place, double peak)
    {
        double decay = _settings.SpikeDecaySeconds * _time.SampleRateHz;
        int first = (int)Math.Ceiling(place);
        for (int i = first; i < samples.Length && i - place < 12 * decay; i++)
        {
            double behind = i - place;
            samples[i] += (float)(peak * Math.Exp(-behind / decay) * Math.Cos(0.5 * Math.PI * behind));
        }
    }

    private void AddInitialPulse(double delaySeconds, Span<float> samples)
    {
        if (_settings.InitialPulseFraction <= 0)
            return;
        double sigma = 0.5 / _frequencyHz;
        for (int i = 0; i < samples.Length; i++)
        {
            double time = _time.StartSeconds + i / _time.SampleRateHz - delaySeconds;
            double envelope =
                time < 0
                    ? Math.Exp(-time * time / (2 * sigma * sigma))
                    : Math.Pow(10, -time / _settings.InitialPulseSeconds);
            // Ten decades below full scale nothing is left of it.
            if (time > 10 * _settings.InitialPulseSeconds)
                break;
            samples[i] += (float)(
                _settings.InitialPulseFraction * envelope * Math.Cos(2 * Math.PI * _frequencyHz * time)
            );
        }
    }

    private void Shut(double delaySeconds, Span<float> samples)
    {
        if (_settings.DeadTimeSeconds <= 0)
            return;
        double end = (_settings.DeadTimeSeconds + delaySeconds - _time.StartSeconds) * _time.SampleRateHz;
        samples[..(int)Math.Clamp(Math.Ceiling(end), 0, samples.Length)].Clear();
    }
}
