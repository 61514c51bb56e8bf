using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>One <c>[[gate]]</c>: a window on the time base, with a level, that rides on an earlier echo.</summary>
public sealed record GateSettings
{
    /// <summary>Reserved name of the interface echo in <see cref="Follows"/>.</summary>
    public const string Interface = "interface";

    /// <summary>Reserved name of the transmitted pulse in <see cref="Follows"/>.</summary>
    public const string Pulse = "pulse";

    /// <summary>Name by which pairing and other gates refer to it.</summary>
    [ProcedureKey("name", "Name by which pairing and later gates refer to this gate's echo.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>What the gate rides on.</summary>
    [ProcedureKey("follows", "What the gate rides on: 'interface', 'pulse' or the name of an earlier gate.")]
    public string Follows { get; init; } = Interface;

    /// <summary>Start behind the followed echo.</summary>
    [ProcedureKey(
        "start",
        "Start behind the followed echo, as time ('0.6 us') or depth of metal ('2 mm').",
        Required = true
    )]
    public GateExtent Start { get; init; }

    /// <summary>Width.</summary>
    [ProcedureKey("width", "Width, as time or depth of metal.", Required = true)]
    public GateExtent Width { get; init; }

    /// <summary>Level the echo must reach.</summary>
    [ProcedureKey(
        "level",
        "Level the echo must reach: '5 % of full scale', '-12 dB of strongest', '5 x noise' or '-26 dB of followed'."
    )]
    public LevelRule Level { get; init; } = new(5, LevelReference.Noise);

    /// <summary>Distance-dependent change of the level; empty for none.</summary>
    [ProcedureKey("level_by_depth", "Points that change the level with depth, linear in decibels between them.")]
    public IReadOnlyList<LevelPoint> LevelByDepth { get; init; } = [];

    /// <summary>Which echo over the level.</summary>
    [ProcedureKey("take", "Which echo over the level counts.")]
    public EchoChoice Take { get; init; } = EchoChoice.Strongest;

    /// <summary>Instant taken.</summary>
    [ProcedureKey("pick", "Instant taken from the echo.")]
    public PickRule Pick { get; init; } = PickRule.Peak;

    /// <summary>Sign that counts.</summary>
    [ProcedureKey("polarity", "Sign of the echo (rf only).")]
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
}
