namespace EchoToThickness.Storage.Hdf5;

/// <summary>Where the chunks of a dataset lie; row-major over the grid of chunks. Shared by all readers of the dataset.</summary>
internal sealed class ChunkTable
{
    public ChunkTable(long[] dimensions, long[] chunk, Hdf5Source source, string objectPath)
    {
        Chunk = chunk;
        Counts = new long[chunk.Length];
        UInt128 total = 1;
        for (int i = 0; i < chunk.Length; i++)
        {
            Counts[i] = (dimensions[i] + chunk[i] - 1) / chunk[i];
            total *= (UInt128)Counts[i];
            if (total > (UInt128)source.Limits.Chunks)
            {
                throw source.Damaged(
                    objectPath,
                    $"An extent of {string.Join(" x ", dimensions)} in chunks of {string.Join(" x ", chunk)} needs more than {source.Limits.Chunks} chunks, the limit."
                );
            }
        }
        // The table must not cost more memory than the file can account for.
        if (total > 4096 + (UInt128)source.Length / 8)
        {
            throw source.Damaged(
                objectPath,
                $"{total} chunks are declared in a file of {source.Length} bytes, which cannot hold them."
            );
        }
        Addresses = new long[(long)total];
        Addresses.AsSpan().Fill(-1);
        StoredBytes = new int[(long)total];
        Masks = null;
    }

    public long[] Chunk { get; }

    /// <summary>Chunks along each axis.</summary>
    public long[] Counts { get; }

    /// <summary>Address from the base address; -1 = never written.</summary>
    public long[] Addresses { get; }

    public int[] StoredBytes { get; }

    /// <summary>Filters left out by chunk, bit i = filter i; null when no chunk left one out.</summary>
    public uint[]? Masks { get; private set; }

    public uint MaskOf(long chunk) => Masks is null ? 0 : Masks[chunk];

    public void Set(long index, long address, long storedBytes, uint mask, Hdf5Source source, string objectPath)
    {
        if (address < 0)
            return;
        if (
            storedBytes <= 0
            || storedBytes > source.Limits.ChunkBytes
            || storedBytes > source.Length - source.BaseAddress - address
        )
        {
            throw source.Damaged(
                objectPath,
                $"Chunk {index} claims {storedBytes} bytes at address {address}; the file has {source.Length} bytes."
            );
        }
        if (Addresses[index] >= 0)
            throw source.Damaged(objectPath, $"Chunk {index} is indexed twice.");
        Addresses[index] = address;
        StoredBytes[index] = (int)storedBytes;
        if (mask != 0)
            (Masks ??= new uint[Addresses.Length])[index] = mask;
    }
}
