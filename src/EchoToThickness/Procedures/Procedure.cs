namespace EchoToThickness.Procedures;

/// <summary>
/// A measuring procedure: everything that decides how a stack becomes a grid. Immutable, all defaults visible; read from and
/// written to TOML by <c>ProcedureText</c>. The same procedure on the same stack gives the same grid, bit for bit.
/// </summary>
public sealed record Procedure
{
    /// <summary>What the file is.</summary>
    [ProcedureKey("procedure", "What the file is.")]
    public ProcedureHeader Header { get; init; } = new();

    /// <summary>Before anything is looked for.</summary>
    [ProcedureKey("conditioning", "What happens to an A-scan before anything is looked for in it.")]
    public ConditioningSettings Conditioning { get; init; } = new();

    /// <summary>The interface echo.</summary>
    [ProcedureKey("interface", "How the interface echo is found.")]
    public InterfaceSettings Interface { get; init; } = new();

    /// <summary>The gates, in order; a gate may follow an earlier one.</summary>
    [ProcedureKey("gate", "A window on the time base that rides on an earlier echo; any number, in order.")]
    public IReadOnlyList<GateSettings> Gates { get; init; } = [];

    /// <summary>The range of walls.</summary>
    [ProcedureKey("wall", "The range of walls that is believed.")]
    public WallSettings Wall { get; init; } = new();

    /// <summary>Which echoes give the wall.</summary>
    [ProcedureKey("pairing", "Which echoes give the wall.")]
    public PairingSettings Pairing { get; init; } = new();

    /// <summary>How the pairing rule <c>train</c> weighs echoes.</summary>
    [ProcedureKey("train", "How the pairing rule 'train' weighs the echoes of one A-scan.")]
    public TrainSettings Train { get; init; } = new();

    /// <summary>What turns echoes into a wall.</summary>
    [ProcedureKey(
        "estimation",
        "What turns the echoes of one A-scan into a wall; docs/theory/estimators.md says how and how well."
    )]
    public EstimationSettings Estimation { get; init; } = new();

    /// <summary>The choice over the map.</summary>
    [ProcedureKey("map", "The joint choice of walls over true neighbours, for the pairing rule 'train'.")]
    public MapSettings Map { get; init; } = new();

    /// <summary>Metres for seconds.</summary>
    [ProcedureKey("velocity", "Metres for seconds.")]
    public VelocitySettings Velocity { get; init; } = new();

    /// <summary>What lies between times and wall.</summary>
    [ProcedureKey("correction", "What lies between the picked times and the wall.")]
    public CorrectionSettings Correction { get; init; } = new();

    /// <summary>What is written.</summary>
    [ProcedureKey("output", "Which layers the grid holds.")]
    public OutputSettings Output { get; init; } = new();
}
