using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>A layout map: where in a foreign file the A-scans are, in which order, and which object gives each fact.</summary>
public sealed record LayoutMap
{
    /// <summary>Version of the layout map format that this program reads.</summary>
    public const int CurrentVersion = 1;

    /// <summary>Format version.</summary>
    [ProcedureKey("layout_version", "Version of the layout map format.", Minimum = 1, Maximum = CurrentVersion)]
    public int Version { get; init; } = CurrentVersion;

    /// <summary>For people.</summary>
    [ProcedureKey("description", "What the map is for.")]
    public string Description { get; init; } = "";

    /// <summary>Groups with one line each.</summary>
    [ProcedureKey(
        "groups",
        "HDF5 groups that hold one line each; paths without leading '/' count from them. Left out: the file holds one line."
    )]
    public IReadOnlyList<string> Groups { get; init; } = [];

    /// <summary>The A-scans.</summary>
    [ProcedureKey("samples", "Where the A-scans are and how their numbers count.")]
    public SamplesLayout Samples { get; init; } = new();

    /// <summary>Time base.</summary>
    [ProcedureKey("time", "Sample index to seconds.")]
    public TimeLayout Time { get; init; } = new();

    /// <summary>Positions.</summary>
    [ProcedureKey("positions", "Where the cells lie.")]
    public PositionsLayout Positions { get; init; } = new();

    /// <summary>Neighbourhood told by the file.</summary>
    [ProcedureKey("neighbours", "Which cells lie side by side, told by a text in the file.")]
    public NeighboursLayout Neighbours { get; init; } = new();

    /// <summary>Acquisition facts.</summary>
    [ProcedureKey("acquisition", "How the A-scans were taken.")]
    public AcquisitionLayout Acquisition { get; init; } = new();

    /// <summary>Component facts.</summary>
    [ProcedureKey("component", "What was scanned.")]
    public ComponentLayout Component { get; init; } = new();

    /// <summary>Truth layers.</summary>
    [ProcedureKey("truth", "What is known of each cell of a simulated stack or reference block.")]
    public TruthLayout Truth { get; init; } = new();
}
