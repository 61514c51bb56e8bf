using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>A simulated scan: the component, its wall, what lies over it, the array, the plan and what goes wrong. Read from TOML by <see cref="SceneText"/>.</summary>
public sealed record Scene
{
    /// <summary>What the scene is, and its seed.</summary>
    [ProcedureKey("scene", "What the scene is, and its seed.")]
    public SceneHeader Header { get; init; } = new();

    /// <summary>The component that is scanned.</summary>
    [ProcedureKey("component", "The component that is scanned.")]
    public ComponentSection Component { get; init; } = new();

    /// <summary>The metal, and what lies behind it.</summary>
    [ProcedureKey("material", "The metal, and what lies behind it.")]
    public MaterialSection Material { get; init; } = new();

    /// <summary>The wall: what is missing of it, and what lies in it or on it.</summary>
    [ProcedureKey("wall", "The wall: what is missing of it, and what lies in it or on it.")]
    public WallSection Wall { get; init; } = new();

    /// <summary>The outer surface and its coats.</summary>
    [ProcedureKey("surface", "The outer surface and its coats.")]
    public SurfaceSection Surface { get; init; } = new();

    /// <summary>The layer between array and surface.</summary>
    [ProcedureKey("coupling", "The layer between array and surface.")]
    public CouplingSection Coupling { get; init; } = new();

    /// <summary>The array and its pulse.</summary>
    [ProcedureKey("array", "The array and its pulse.")]
    public ArraySection Array { get; init; } = new();

    /// <summary>Where A-scans are taken.</summary>
    [ProcedureKey("scan", "Where A-scans are taken.")]
    public ScanSection Scan { get; init; } = new();

    /// <summary>How echoes become stored samples.</summary>
    [ProcedureKey("instrument", "How echoes become stored samples.")]
    public InstrumentSection Instrument { get; init; } = new();

    /// <summary>When the scan is taken, for walls that grow thinner.</summary>
    [ProcedureKey("survey", "When the scan is taken, for walls that grow thinner.")]
    public SurveySection Survey { get; init; } = new();

    /// <summary>Something that goes wrong on purpose; labelled in the truth.</summary>
    [ProcedureKey("fault", "Something that goes wrong on purpose; labelled in the truth.")]
    public IReadOnlyList<FaultEntry> Faults { get; init; } = [];
}
