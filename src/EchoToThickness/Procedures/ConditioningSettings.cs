using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[conditioning]</c>: what happens to an A-scan before anything is looked for in it.</summary>
public sealed record ConditioningSettings
{
    /// <summary>Subtract the record's own mean.</summary>
    [ProcedureKey("remove_offset", "Subtract the mean of the A-scan before filtering.")]
    public bool RemoveOffset { get; init; } = true;

    /// <summary>Lower edge of the pass band, hertz; null for no filter.</summary>
    [ProcedureKey(
        "band_low",
        "Lower edge of the band-pass (-6 dB); leave out both edges for no filter.",
        Dimension.Frequency,
        Minimum = 0
    )]
    public double? BandLowHz { get; init; }

    /// <summary>Upper edge of the pass band, hertz; null for no filter.</summary>
    [ProcedureKey("band_high", "Upper edge of the band-pass (-6 dB).", Dimension.Frequency, Minimum = 0)]
    public double? BandHighHz { get; init; }

    /// <summary>Odd number of filter taps.</summary>
    [ProcedureKey(
        "taps",
        "Odd number of taps of the linear-phase filter; its delay is compensated.",
        Minimum = 3,
        Maximum = 511
    )]
    public int Taps { get; init; } = 63;

    /// <summary>The signal looked at.</summary>
    [ProcedureKey("signal", "Signal that interface and gates look at.")]
    public SignalChoice Signal { get; init; } = SignalChoice.RadioFrequency;

    /// <summary>Neighbouring beams averaged (odd; 1 = none).</summary>
    [ProcedureKey(
        "average_beams",
        "Odd number of neighbouring beams in the running average; 1 for none. Costs resolution.",
        Minimum = 1,
        Maximum = 15
    )]
    public int AverageBeams { get; init; } = 1;

    /// <summary>Neighbouring scan positions averaged (odd; 1 = none).</summary>
    [ProcedureKey(
        "average_scans",
        "Odd number of neighbouring scan positions in the running average; 1 for none. Costs resolution.",
        Minimum = 1,
        Maximum = 15
    )]
    public int AverageScans { get; init; } = 1;

    /// <summary>Consecutive samples at a rail that count as saturation.</summary>
    [ProcedureKey(
        "saturation_samples",
        "Consecutive samples at a rail of the digitiser that count as saturation; 0 to ignore saturation.",
        Minimum = 0,
        Maximum = 1000
    )]
    public int SaturationSamples { get; init; } = 2;
}
