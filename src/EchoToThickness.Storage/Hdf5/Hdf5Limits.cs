namespace EchoToThickness.Storage.Hdf5;

/// <summary>What a file may declare before reading it is refused. The defaults fit stacks of hundreds of gigabytes.</summary>
public sealed record Hdf5Limits
{
    /// <summary>The default limits.</summary>
    public static Hdf5Limits Default { get; } = new();

    /// <summary>Bytes of structure (headers, indexes, heaps) that opening one file may read.</summary>
    public long MetadataBytes { get; init; } = 256L << 20;

    /// <summary>Bytes of one decoded chunk.</summary>
    public long ChunkBytes { get; init; } = 256L << 20;

    /// <summary>Bytes of one attribute or of one small dataset read whole.</summary>
    public long SmallObjectBytes { get; init; } = 64L << 20;

    /// <summary>Chunks of one dataset.</summary>
    public long Chunks { get; init; } = 16L << 20;

    /// <summary>Bytes that one dataset may unpack to, relative to the length of the file (deflate cannot exceed about 1030).</summary>
    public double ExpansionFactor { get; init; } = 1100;

    /// <summary>Objects met while walking the groups.</summary>
    public int Objects { get; init; } = 20_000;

    /// <summary>Nesting of groups, and soft links followed in a row.</summary>
    public int Depth { get; init; } = 32;
}
