namespace EchoToThickness.Storage.Native;

/// <summary>How a stack is written.</summary>
public sealed record StackWriterOptions
{
    /// <summary>How the A-scans are stored.</summary>
    public StackPacking Packing { get; init; } = StackPacking.Deflate;

    /// <summary>Scan positions of a chunk; null for as many as make half a megabyte, at least one.</summary>
    public int? ScansPerChunk { get; init; }

    /// <summary>Wait until the bytes are on the disk before the file takes its name.</summary>
    public bool FlushToDisk { get; init; } = true;
}
