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

    /// <summary>The same scene on another pipe size: diameter, wall and bend radius from the tables, and everything given by angle or fraction.</summary>
    /// <param name="nominalPipeSize">Nominal pipe size, inches: <c>"8"</c>.</param>
    /// <exception cref="ProcedureException">The size is not in the table, or the scene is not made to scale: it has no nps and schedule.</exception>
    public Scene OfPipeSize(string nominalPipeSize)
    {
        ArgumentNullException.ThrowIfNull(nominalPipeSize);
        if (Component.NominalPipeSize is null || Component.Schedule is null || Component.BendRadiusMetres is not null)
            throw new ProcedureException(
                "The scene is not made to scale with the pipe size.",
                "key component.nps",
                "give the component by nps and schedule, without bend_radius, or leave the other size out."
            );
        Scene scaled = this with { Component = Component with { NominalPipeSize = nominalPipeSize } };
        ComponentShape.Of(scaled.Component);
        return scaled;
    }
}
