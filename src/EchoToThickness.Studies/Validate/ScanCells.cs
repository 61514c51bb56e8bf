using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Running;

namespace EchoToThickness.Studies.Validate;

/// <summary>A measured line with its truth; all arrays of shape [scan, beam] row by row.</summary>
public sealed record ScanCells
{
    /// <summary>The scan.</summary>
    public required PlacedScan Scan { get; init; }

    /// <summary>Name of the line; empty for the only one.</summary>
    public required string Line { get; init; }

    /// <summary>Scan positions.</summary>
    public required int Scans { get; init; }

    /// <summary>Beams.</summary>
    public required int Beams { get; init; }

    /// <summary>What was measured.</summary>
    public required MethodResult Result { get; init; }

    /// <summary>Certified wall where it is even under the beam, metres; NaN where a cell is not judged.</summary>
    public required double[] TruthMetres { get; init; }

    /// <summary>Standard uncertainty of the certified wall, metres.</summary>
    public required double[] TruthUncertaintyMetres { get; init; }

    /// <summary>Group of each cell: feature of the drawing, or cluster of a stack with its own truth; -1 where none.</summary>
    public required int[] Group { get; init; }

    /// <summary>Names of groups.</summary>
    public required IReadOnlyList<string> GroupNames { get; init; }

    /// <summary>What the drawing says; null for a stack with its own truth.</summary>
    public DrawnTruth? Drawn { get; init; }

    /// <summary>Where cells lie on the scan; null for a stack with its own truth.</summary>
    public ScannedCells? Cells { get; init; }

    /// <summary>Where the scan lies on the drawing; null for a stack with its own truth.</summary>
    public DrawingRegistration? Registration { get; init; }
}
