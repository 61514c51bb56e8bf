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

    /// <summary>Length of the initial pulse at the start of the time base.</summary>
    [ProcedureKey(
        "dead_time",
        "Length of the initial pulse at the start of the time base.",
        Dimension.Time,
        Minimum = 0
    )]
    public double DeadTimeSeconds { get; init; } = 0;

    /// <summary>A change of gain during the scan.</summary>
    [ProcedureKey("gain_step", "A change of gain during the scan.")]
    public IReadOnlyList<GainStep> GainSteps { get; init; } = [];
}
