using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[instrument]</c>: how echoes become stored samples.</summary>
public sealed record InstrumentSection
{
    /// <summary>Samples a second.</summary>
    [ProcedureKey("sample_rate", "Samples a second.", Dimension.Frequency, Minimum = 1e5)]
    public double SampleRateHz { get; init; } = 100e6;

    /// <summary>Time of sample 0, from the pulse; null: shortly before the earliest interface echo.</summary>
    [ProcedureKey(
        "start",
        "Time of sample 0, from the pulse; left out: shortly before the earliest interface echo.",
        Dimension.Time
    )]
    public double? StartSeconds { get; init; }

    /// <summary>Samples of one A-scan; null: enough for three echoes of the nominal wall.</summary>
    [ProcedureKey(
        "samples",
        "Samples of one A-scan; left out: enough for three echoes of the nominal wall.",
        Minimum = 16,
        Maximum = 1000000
    )]
    public int? Samples { get; init; }

    /// <summary>The record ends before the back wall on purpose.</summary>
    [ProcedureKey(
        "clipped_time_base",
        "The record may miss the interface or the back wall on purpose; such cells are labelled in the truth."
    )]
    public bool ClippedTimeBase { get; init; }

    /// <summary>Bits of the digitiser: 8, 12, 14 or 16.</summary>
    [ProcedureKey("bits", "Bits of the digitiser: 8, 12, 14 or 16.", Minimum = 8, Maximum = 16)]
    public int Bits { get; init; } = 16;

    /// <summary>Amplitude of the interface echo of bare metal, fraction of full scale; above 100 % it saturates.</summary>
    [ProcedureKey(
        "gain",
        "Amplitude of the interface echo of bare metal, fraction of full scale; above 100 % it saturates.",
        Dimension.Fraction,
        Minimum = 0
    )]
    public double InterfaceAmplitudeFraction { get; init; } = 0.7;

    /// <summary>Shots averaged into one A-scan.</summary>
    [ProcedureKey("averaging", "Shots averaged into one A-scan.", Minimum = 1, Maximum = 4096)]
    public int Averages { get; init; } = 1;

    /// <summary>What is stored.</summary>
    [ProcedureKey("form", "What is stored.")]
    public StoredForm Form { get; init; } = StoredForm.Rf;

    /// <summary>Standard deviation of electronic noise of one shot, fraction of full scale.</summary>
    [ProcedureKey(
        "noise",
        "Standard deviation of electronic noise of one shot, fraction of full scale.",
        Dimension.Fraction,
        Minimum = 0
    )]
    public double NoiseFraction { get; init; } = 0.002;

    /// <summary>First back-wall echo of a sound cell over the noise of one shot, decibels; null: noise holds.</summary>
    [ProcedureKey(
        "signal_to_noise",
        "Peak of the first back-wall echo of a sound cell over the noise of one shot; in place of noise.",
        Dimension.Decibel,
        Minimum = -60,
        Maximum = 200
    )]
    public double? SignalToNoiseDecibels { get; init; }

    /// <summary>Which frequencies electronic noise has.</summary>
    [ProcedureKey("noise_spectrum", "Which frequencies electronic noise has; its standard deviation is the same.")]
    public NoiseSpectrum NoiseSpectrum { get; init; } = NoiseSpectrum.ReceiverBand;

    /// <summary>Frequency under which the receiver passes less than half the amplitude; 0: no lower edge; null: 0.2 times the array's.</summary>
    [ProcedureKey(
        "noise_band_low",
        "Frequency under which the receiver passes less than half the amplitude of noise; 0: no lower edge; left out: 0.2 times the array's.",
        Dimension.Frequency,
        Minimum = 0
    )]
    public double? NoiseBandLowHz { get; init; }

    /// <summary>Frequency above which the receiver passes less than half the amplitude; null: 2.2 times the array's, at most 0.45 of the sample rate.</summary>
    [ProcedureKey(
        "noise_band_high",
        "Frequency above which it passes less than half; left out: 2.2 times the array's, at most 0.45 times sample_rate.",
        Dimension.Frequency,
        Minimum = 0
    )]
    public double? NoiseBandHighHz { get; init; }

    /// <summary>Root mean square of grain noise behind the interface, fraction of the interface echo.</summary>
    [ProcedureKey(
        "grain_noise",
        "Root mean square of grain noise behind the interface, fraction of the interface echo.",
        Dimension.Fraction,
        Minimum = 0
    )]
    public double GrainNoiseFraction { get; init; } = 0;

    /// <summary>Distance over which neighbouring beams see the same grains.</summary>
    [ProcedureKey(
        "grain_correlation",
        "Distance over which neighbouring beams see the same grains.",
        Dimension.Length,
        Minimum = 0
    )]
    public double GrainCorrelationMetres { get; init; } = 4e-3;

    /// <summary>Loss of the grain noise with depth, there and back together, decibels per metre of depth.</summary>
    [ProcedureKey(
        "grain_decay",
        "Loss of the grain noise with depth, there and back together.",
        Dimension.Attenuation,
        Minimum = 0
    )]
    public double GrainDecayDecibelsPerMetre { get; init; } = 300;

    /// <summary>Standard deviation of the trigger.</summary>
    [ProcedureKey("trigger_jitter", "Standard deviation of the trigger.", Dimension.Time, Minimum = 0)]
    public double TriggerJitterSeconds { get; init; } = 0;

    /// <summary>Interference spikes in one A-scan on average.</summary>
    [ProcedureKey("spikes", "Interference spikes in one A-scan on average.", Minimum = 0, Maximum = 100)]
    public double SpikeRate { get; init; } = 0;

    /// <summary>Amplitude of a spike, fraction of full scale.</summary>
    [ProcedureKey("spike_amplitude", "Amplitude of a spike, fraction of full scale.", Dimension.Fraction, Minimum = 0)]
    public double SpikeAmplitudeFraction { get; init; } = 0.5;

    /// <summary>Level of the interface echo's own tail against its peak; left at -200 dB for none.</summary>
    [ProcedureKey(
        "ring_down",
        "Level of the interface echo's own tail against its peak; left at -200 dB for none.",
        Dimension.Decibel,
        Maximum = 0
    )]
    public double RingDownDecibels { get; init; } = -200;

    /// <summary>Time in which the tail falls by 20 dB.</summary>
    [ProcedureKey("ring_down_time", "Time in which the tail falls by 20 dB.", Dimension.Time, Minimum = 0)]
    public double RingDownSeconds { get; init; } = 0.5e-6;

    /// <summary>Duration in which a spike decays to 37 %, seconds.</summary>
    [ProcedureKey("spike_decay", "Duration in which a spike decays to 37 %.", Dimension.Time, Minimum = 1e-9)]
    public double SpikeDecaySeconds { get; init; } = 0.03e-6;

    /// <summary>Peak of the transmitted pulse in the record, fraction of full scale; 0: the receiver does not see it.</summary>
    [ProcedureKey(
        "initial_pulse",
        "Peak of the transmitted pulse in the record, fraction of full scale; 0: the receiver does not see it.",
        Dimension.Fraction,
        Minimum = 0
    )]
    public double InitialPulseFraction { get; init; } = 0;

    /// <summary>Time in which the tail of the transmitted pulse falls by 20 dB, seconds.</summary>
    [ProcedureKey(
        "initial_pulse_time",
        "Time in which the tail of the transmitted pulse falls by 20 dB.",
        Dimension.Time,
        Minimum = 1e-9
    )]
    public double InitialPulseSeconds { get; init; } = 0.5e-6;

    /// <summary>Time from the pulse until which the receiver is shut and stores its zero level, seconds; 0: never.</summary>
    [ProcedureKey(
        "dead_time",
        "Time from the pulse until which the receiver is shut and stores its zero level; 0: never.",
        Dimension.Time,
        Minimum = 0
    )]
    public double DeadTimeSeconds { get; init; } = 0;

    /// <summary>A change of gain during the scan.</summary>
    [ProcedureKey("gain_step", "A change of gain during the scan.")]
    public IReadOnlyList<GainStep> GainSteps { get; init; } = [];
}
