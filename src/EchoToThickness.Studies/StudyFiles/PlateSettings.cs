using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>
/// Section <c>[[plate]]</c>: A-scans of a lossless plane layer between couplant and gas, exact, with white noise added. Every record has its
/// own wall, interface time and noise, so records are independent.
/// </summary>
public sealed record PlateSettings
{
    /// <summary>Name in tables.</summary>
    [ProcedureKey("name", "Name in tables and figures.")]
    public string Name { get; init; } = "plate";

    /// <summary>Mean wall, metres.</summary>
    [ProcedureKey("wall", "Mean wall.", Dimension.Length, Minimum = 1e-4, Maximum = 1)]
    public double WallMetres { get; init; } = 8e-3;

    /// <summary>Full range of walls about the mean, metres.</summary>
    [ProcedureKey(
        "wall_range",
        "Walls of the records are spread evenly over this range about the mean, so that no place on the sample grid is favoured.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1
    )]
    public double WallRangeMetres { get; init; } = 0.2e-3;

    /// <summary>Peak of back-wall echo 1 over the standard deviation of the noise, decibels.</summary>
    [ProcedureKey(
        "snr",
        "Peak of back-wall echo 1 over the standard deviation of the white noise.",
        Dimension.Decibel,
        Minimum = -40,
        Maximum = 120
    )]
    public double SnrDecibels { get; init; } = 20;

    /// <summary>Centre frequency, hertz.</summary>
    [ProcedureKey("frequency", "Centre frequency of the pulse.", Dimension.Frequency, Minimum = 1e4, Maximum = 1e9)]
    public double FrequencyHz { get; init; } = 7e6;

    /// <summary>Relative bandwidth at -6 dB.</summary>
    [ProcedureKey(
        "bandwidth",
        "Relative bandwidth of the pulse at -6 dB.",
        Dimension.Fraction,
        Minimum = 0.05,
        Maximum = 1.5
    )]
    public double BandwidthFraction { get; init; } = 0.6;

    /// <summary>Sample rate, hertz.</summary>
    [ProcedureKey("sample_rate", "Samples a second.", Dimension.Frequency, Minimum = 1e5, Maximum = 1e10)]
    public double SampleRateHz { get; init; } = 100e6;

    /// <summary>Bits of the digitiser.</summary>
    [ProcedureKey("bits", "Bits of the digitiser; rounding is part of the record.", Minimum = 6, Maximum = 16)]
    public int Bits { get; init; } = 16;

    /// <summary>Interface echo, fraction of full scale.</summary>
    [ProcedureKey(
        "interface_level",
        "Interface echo as a part of full scale; above 100 % it is saturated.",
        Dimension.Fraction,
        Minimum = 0.01,
        Maximum = 20
    )]
    public double InterfaceLevelFraction { get; init; } = 0.7;

    /// <summary>Mean couplant path, metres.</summary>
    [ProcedureKey("couplant_path", "Mean path in the couplant.", Dimension.Length, Minimum = 0, Maximum = 1)]
    public double CouplantPathMetres { get; init; } = 3e-3;

    /// <summary>Standard deviation of the couplant path, metres.</summary>
    [ProcedureKey(
        "coupling_jitter",
        "Standard deviation of the couplant path from record to record.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double CouplingJitterMetres { get; init; } = 0.05e-3;

    /// <summary>Time before the mean interface echo at which records begin, seconds.</summary>
    [ProcedureKey("lead", "Records begin this long before the mean interface echo.", Dimension.Time, Minimum = 0)]
    public double LeadSeconds { get; init; } = 1e-6;

    /// <summary>Length of a record, seconds.</summary>
    [ProcedureKey("duration", "Length of a record.", Dimension.Time, Minimum = 1e-6, Maximum = 1e-2)]
    public double DurationSeconds { get; init; } = 14e-6;

    /// <summary>Velocity in the metal, metres per second.</summary>
    [ProcedureKey("velocity", "Longitudinal velocity in the metal.", Dimension.Velocity, Minimum = 100, Maximum = 2e4)]
    public double VelocityMetresPerSecond { get; init; } = 5920;

    /// <summary>Velocity in the couplant, metres per second.</summary>
    [ProcedureKey("couplant_velocity", "Velocity in the couplant.", Dimension.Velocity, Minimum = 100, Maximum = 2e4)]
    public double CouplantVelocityMetresPerSecond { get; init; } = 1480;

    /// <summary>Acoustic impedance of the metal over that of the couplant.</summary>
    [ProcedureKey(
        "impedance_ratio",
        "Acoustic impedance of the metal over that of the couplant; steel over water is 31.4.",
        Minimum = 1.1,
        Maximum = 1e5
    )]
    public double ImpedanceRatio { get; init; } = 31.4;

    /// <summary>Which echoes the bound may use.</summary>
    [ProcedureKey("bound", "Which echoes the Cramér-Rao bound may use.")]
    public BoundChoice Bound { get; init; } = BoundChoice.Record;
}
