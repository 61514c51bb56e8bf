using EchoToThickness.Components;
using EchoToThickness.Stacks;

namespace EchoToThickness.Reporting.Documents;

/// <summary>What the report of an inspection is made from, beside the JSON of its statistics.</summary>
public sealed record InspectionSources
{
    /// <summary>The grid; null when it is not at hand: the report then has no map.</summary>
    public string? GridPath { get; init; }

    /// <summary>Facts of the stack; null when it is not at hand.</summary>
    public StackInfo? Stack { get; init; }

    /// <summary>Why A-scans are not shown; empty when they are.</summary>
    public string StackNote { get; init; } = "";

    /// <summary>Measures a cell again; null when the stack is not at hand. May return null for a line it does not hold.</summary>
    public Func<CellSource, ExplainedCell?>? Explain { get; init; }

    /// <summary>How many of the thinnest regions get a picture and an A-scan.</summary>
    public int Regions { get; init; } = 5;

    /// <summary>Title; null for the default.</summary>
    public string? Title { get; init; }

    /// <summary>Name of the component, as the reader knows it; null for none.</summary>
    public string? ComponentName { get; init; }
}
