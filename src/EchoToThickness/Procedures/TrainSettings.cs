using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[train]</c>: how the pairing rule <c>train</c> weighs the echoes of one A-scan.</summary>
public sealed record TrainSettings
{
    /// <summary>What an early reflector is taken for.</summary>
    [ProcedureKey(
        "expect",
        "What a reflector in front of the far wall is taken for when the echoes alone cannot tell."
    )]
    public TrainExpectation Expect { get; init; } = TrainExpectation.Laminar;

    /// <summary>Nominal centre frequency, hertz; null: the stack's own.</summary>
    [ProcedureKey(
        "frequency",
        "Nominal centre frequency; left out: the stack's own.",
        Dimension.Frequency,
        Minimum = 1e4
    )]
    public double? FrequencyHz { get; init; }

    /// <summary>Relative bandwidth at -6 dB; null: the stack's own, else 60 %.</summary>
    [ProcedureKey(
        "bandwidth",
        "Relative bandwidth at -6 dB; left out: the stack's own, else 60 %.",
        Dimension.Fraction,
        Minimum = 0.05,
        Maximum = 1.5
    )]
    public double? BandwidthFraction { get; init; }

    /// <summary>Candidate echoes reach this multiple of the record's quiet level.</summary>
    [ProcedureKey(
        "candidate_level",
        "Candidate echoes reach this multiple of the record's quiet level.",
        Minimum = 1,
        Maximum = 50
    )]
    public double CandidateLevel { get; init; } = 3.3;

    /// <summary>The interface is the first candidate that reaches this fraction of the strongest.</summary>
    [ProcedureKey(
        "interface_fraction",
        "The interface is the first candidate that reaches this fraction of the strongest.",
        Dimension.Fraction,
        Minimum = 0.01,
        Maximum = 1
    )]
    public double InterfaceFraction { get; init; } = 0.30;

    /// <summary>Echoes weaker than this against the interface are scatter, decibels.</summary>
    [ProcedureKey(
        "echo_floor",
        "Echoes weaker than this against an unsaturated interface are taken for scatter.",
        Dimension.Decibel,
        Maximum = 0
    )]
    public double EchoFloorDecibels { get; init; } = -38;

    /// <summary>Weakest echo, against the interface, that may be the wall, decibels.</summary>
    [ProcedureKey(
        "weakest_wall",
        "Weakest echo, against an unsaturated interface, that may be the wall.",
        Dimension.Decibel,
        Maximum = 0
    )]
    public double WeakestWallDecibels { get; init; } = -38;

    /// <summary>No echo of the wall is stronger than this against the interface, decibels.</summary>
    [ProcedureKey(
        "strongest_wall",
        "No echo of the wall is stronger than this against an unsaturated interface; steel in water: 1 - R^2 is -18 dB.",
        Dimension.Decibel,
        Maximum = 0
    )]
    public double StrongestWallDecibels { get; init; } = -14;

    /// <summary>How much an unexplained echo before the wall counts against a hypothesis.</summary>
    [ProcedureKey(
        "early_weight",
        "How much an unexplained echo in front of the wall counts against a hypothesis.",
        Minimum = 0,
        Maximum = 10
    )]
    public double EarlyWeight { get; init; } = 0.7;

    /// <summary>Peak-to-noise ratio under which the chosen echo is not believed.</summary>
    [ProcedureKey(
        "weakest_ratio",
        "Peak-to-noise ratio under which the chosen echo is not believed.",
        Minimum = 1,
        Maximum = 100
    )]
    public double WeakestRatio { get; init; } = 4.2;

    /// <summary>Whether true neighbours along the beam axis take part.</summary>
    [ProcedureKey(
        "neighbours",
        "Whether true neighbours along the beam axis may refuse or supply a weak cell; cells declared unrelated are never tied."
    )]
    public bool Neighbours { get; init; } = true;

    /// <summary><see cref="StrongestWallDecibels"/> as an amplitude ratio.</summary>
    internal double StrongestWallRatio => LevelRule.FromDecibels(StrongestWallDecibels);

    /// <summary><see cref="EchoFloorDecibels"/> as an amplitude ratio.</summary>
    internal double EchoFloorRatio => LevelRule.FromDecibels(EchoFloorDecibels);
}
