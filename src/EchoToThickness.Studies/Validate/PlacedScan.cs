using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Validate;

/// <summary>One scan of a validation, ready to be opened. Thread-safe.</summary>
public sealed record PlacedScan
{
    /// <summary>Name in tables: the entry's, and the file or repeat.</summary>
    public required string Name { get; init; }

    /// <summary>The entry of the study it belongs to.</summary>
    public required ScanSettings Settings { get; init; }

    /// <summary>Block that was scanned, for clusters: the drawing's name, else the entry's.</summary>
    public required string Block { get; init; }

    /// <summary>Level of every factor, in the order of the study; empty text where the scan states none.</summary>
    public required IReadOnlyList<string> Levels { get; init; }

    /// <summary>SHA-256 of the stack (of the scene's text and seed for a simulated one).</summary>
    public required string Sha256 { get; init; }

    /// <summary>Whether it is simulated.</summary>
    public bool IsSimulated { get; init; }

    /// <summary>SHA-256 of the layout map that it is read through; empty without one.</summary>
    public string LayoutSha256 { get; init; } = "";

    /// <summary>Lines in order.</summary>
    public required IReadOnlyList<PlacedLine> Lines { get; init; }

    /// <summary>The drawing; null when the stack holds its own truth, or when the drawing is still sealed.</summary>
    public Drawings.Drawing? Drawing { get; init; }

    /// <summary>What seals the drawing; null when it is open.</summary>
    public SealedDrawing? Sealed { get; init; }

    /// <summary>Whether there is a truth to compare with now.</summary>
    public bool HasTruth => Drawing is not null || Settings.Drawing is null;
}
