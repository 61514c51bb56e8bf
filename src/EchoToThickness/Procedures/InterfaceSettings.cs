using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[interface]</c>: how the interface echo, the zero of every gate that rides on it, is found.</summary>
public sealed record InterfaceSettings
{
    /// <summary>Start of the search, seconds from the pulse; null for the start of the record.</summary>
    [ProcedureKey(
        "search_start",
        "Start of the search, from the pulse; left out: start of the record.",
        Dimension.Time
    )]
    public double? SearchStartSeconds { get; init; }

    /// <summary>End of the search, seconds from the pulse; null for the end of the record.</summary>
    [ProcedureKey("search_end", "End of the search, from the pulse; left out: end of the record.", Dimension.Time)]
    public double? SearchEndSeconds { get; init; }

    /// <summary>Level the echo must reach.</summary>
    [ProcedureKey(
        "level",
        "Level the interface echo must reach: '30 % of full scale', '-6 dB of strongest' or '8 x noise'."
    )]
    public LevelRule Level { get; init; } = new(0.5011872336272722, LevelReference.Strongest);

    /// <summary>Which echo over the level.</summary>
    [ProcedureKey("take", "Which echo over the level is the interface.")]
    public EchoChoice Take { get; init; } = EchoChoice.First;

    /// <summary>Instant taken.</summary>
    [ProcedureKey("pick", "Instant taken from the interface echo.")]
    public PickRule Pick { get; init; } = PickRule.Flank;

    /// <summary>Sign that counts.</summary>
    [ProcedureKey("polarity", "Sign of the interface echo (rf only).")]
    public PolarityChoice Polarity { get; init; } = PolarityChoice.Either;

    /// <summary>Fraction of the echo's peak at which a flank is timed; null for the level itself.</summary>
    [ProcedureKey(
        "flank_fraction",
        "Fraction of the echo's peak at which a flank is timed; left out: the level itself.",
        Dimension.Fraction,
        Minimum = 0.01,
        Maximum = 0.99
    )]
    public double? FlankFraction { get; init; }

    /// <summary>Constant added to the pick, seconds.</summary>
    [ProcedureKey(
        "offset",
        "Constant added to the picked time (distance from the picked feature to the one the gates time).",
        Dimension.Time
    )]
    public double OffsetSeconds { get; init; }

    /// <summary>How neighbours take part.</summary>
    [ProcedureKey("track", "How neighbouring A-scans take part; cells declared unrelated are never tied.")]
    public TrackRule Track { get; init; } = TrackRule.None;

    /// <summary>Largest believable change of the interface time between neighbours, seconds.</summary>
    [ProcedureKey(
        "max_jump",
        "Largest believable change of the interface time from one neighbour to the next.",
        Dimension.Time,
        Minimum = 0
    )]
    public double MaxJumpSeconds { get; init; } = 0.2e-6;
}
