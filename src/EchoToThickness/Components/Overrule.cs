using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Components;

/// <summary>One decision of a reviewer about a cell or a rectangle of cells of one line.</summary>
public sealed record Overrule
{
    /// <summary>What is done.</summary>
    [ProcedureKey("kind", "What is done.", Required = true)]
    public OverruleKind Kind { get; init; }

    /// <summary>Line; empty where the grid holds one.</summary>
    [ProcedureKey("line", "Line; left out where the grid holds one.")]
    public string Line { get; init; } = "";

    /// <summary>First scan position.</summary>
    [ProcedureKey("first_scan", "First scan position, counted from 0.", Required = true, Minimum = 0)]
    public int FirstScan { get; init; }

    /// <summary>Scan positions.</summary>
    [ProcedureKey("scans", "Scan positions.", Minimum = 1)]
    public int Scans { get; init; } = 1;

    /// <summary>First beam.</summary>
    [ProcedureKey("first_beam", "First beam, counted from 0.", Required = true, Minimum = 0)]
    public int FirstBeam { get; init; }

    /// <summary>Beams.</summary>
    [ProcedureKey("beams", "Beams.", Minimum = 1)]
    public int Beams { get; init; } = 1;

    /// <summary>Re-gate: the pair of echoes.</summary>
    [ProcedureKey("take", "Re-gate: the pair of echoes taken in place of the machine's.")]
    public OverruleSource Take { get; init; } = OverruleSource.RunnerUp;

    /// <summary>Replace: the wall, metres.</summary>
    [ProcedureKey("wall", "Replace: the wall.", Dimension.Length, Minimum = 1e-6)]
    public double? WallMetres { get; init; }

    /// <summary>Replace: its standard uncertainty, metres.</summary>
    [ProcedureKey("uncertainty", "Replace: its standard uncertainty.", Dimension.Length, Minimum = 0)]
    public double? UncertaintyMetres { get; init; }

    /// <summary>Why.</summary>
    [ProcedureKey("reason", "Why, for the reader of the report.", Required = true)]
    public string Reason { get; init; } = "";

    /// <summary>Who.</summary>
    [ProcedureKey("by", "Who decided, as the reviewer wants to be named.", Required = true)]
    public string By { get; init; } = "";

    /// <summary>When.</summary>
    [ProcedureKey("time", "When, such as \"2026-03-01T14:30Z\".", Required = true)]
    public string Time { get; init; } = "";
}
