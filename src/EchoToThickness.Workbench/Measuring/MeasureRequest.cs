using EchoToThickness.Grids;
using EchoToThickness.Workbench.Sessions;

namespace EchoToThickness.Workbench.Measuring;

/// <summary>What the page wants measured.</summary>
internal sealed record MeasureRequest
{
    /// <summary>Changes on top of the text that undo and redo walk over.</summary>
    public IReadOnlyList<ProcedureEdit> Edits { get; init; } = [];

    /// <summary>What undo will call the changes; null for a try that leaves the history alone.</summary>
    public string? Commit { get; init; }

    /// <summary>Name of a procedure file to measure for comparison, in the place of the current text; empty for the defaults; null for neither.</summary>
    public string? ReferenceFile { get; init; }

    /// <summary>Layers to send; status always is.</summary>
    public IReadOnlyList<GridLayer> Layers { get; init; } = [GridLayer.Thickness];

    /// <summary>First scan position in view.</summary>
    public int FirstScan { get; init; }

    /// <summary>Scan positions in view.</summary>
    public int ScanCount { get; init; } = int.MaxValue;
}
