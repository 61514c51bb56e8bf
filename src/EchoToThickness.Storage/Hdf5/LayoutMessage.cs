namespace EchoToThickness.Storage.Hdf5;

/// <summary>Where a dataset's elements lie (section IV.A.2.i).</summary>
internal sealed record LayoutMessage
{
    public required LayoutKind Kind { get; init; }

    /// <summary>Contiguous: the data. Chunked: the index or the single chunk. -1 when nothing was stored.</summary>
    public long Address { get; init; } = -1;

    /// <summary>Contiguous: bytes stored.</summary>
    public long SizeBytes { get; init; }

    /// <summary>Compact: the elements.</summary>
    public byte[] Compact { get; init; } = [];

    /// <summary>Chunked: extent of a chunk in elements.</summary>
    public long[] Chunk { get; init; } = [];

    public ChunkIndexKind Index { get; init; }

    /// <summary>Partial chunks at the upper edges are stored without filters.</summary>
    public bool EdgesUnfiltered { get; init; }

    /// <summary>Single filtered chunk: bytes stored and filters left out.</summary>
    public long SingleBytes { get; init; } = -1;

    public uint SingleMask { get; init; }

    public static LayoutMessage Read(ReadOnlySpan<byte> body, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        byte version = cursor.U8();
        switch (version)
        {
            case 1 or 2:
                return ReadOld(ref cursor);
            case 3 or 4:
                break;
            default:
                throw source.Unsupported(
                    objectPath,
                    $"The data layout has version {version} (known: 1 to 4).",
                    "rewrite the file with HDF5 1.8 to 1.14 (h5repack), or copy it again if it is damaged."
                );
        }
        byte kind = cursor.U8();
        switch (kind)
        {
            case 0:
                return new LayoutMessage { Kind = LayoutKind.Compact, Compact = cursor.Take(cursor.U16()).ToArray() };
            case 1:
                return new LayoutMessage
                {
                    Kind = LayoutKind.Contiguous,
                    Address = cursor.Address(),
                    SizeBytes = cursor.Length(),
                };
            case 2:
                return version == 3 ? ReadChunked3(ref cursor) : ReadChunked4(ref cursor);
            case 3:
                return new LayoutMessage { Kind = LayoutKind.Virtual };
            default:
                throw source.Damaged(objectPath, $"The data layout has class {kind} (known: 0 to 3).");
        }
    }

    private static LayoutMessage ReadOld(ref Hdf5Cursor cursor)
    {
        int rank = cursor.U8();
        byte kind = cursor.U8();
        cursor.Skip(5);
        long address = kind == 0 ? -1 : cursor.Address();
        long[] sizes = new long[rank];
        for (int i = 0; i < rank; i++)
            sizes[i] = cursor.U32();
        switch (kind)
        {
            case 0:
                return new LayoutMessage { Kind = LayoutKind.Compact, Compact = cursor.Take(cursor.U32()).ToArray() };
            case 1:
                return new LayoutMessage
                {
                    Kind = LayoutKind.Contiguous,
                    Address = address,
                    SizeBytes = -1,
                };
            case 2:
                CheckRank(ref cursor, rank);
                return new LayoutMessage
                {
                    Kind = LayoutKind.Chunked,
                    Address = address,
                    Chunk = sizes[..^1],
                    Index = ChunkIndexKind.BTree1,
                };
            default:
                throw cursor.Source.Damaged(cursor.ObjectPath, $"The data layout has class {kind} (known: 0 to 2).");
        }
    }

    private static LayoutMessage ReadChunked3(ref Hdf5Cursor cursor)
    {
        int rank = cursor.U8();
        CheckRank(ref cursor, rank);
        long address = cursor.Address();
        long[] sizes = new long[rank - 1];
        for (int i = 0; i < sizes.Length; i++)
            sizes[i] = cursor.U32();
        return new LayoutMessage
        {
            Kind = LayoutKind.Chunked,
            Address = address,
            Chunk = sizes,
            Index = ChunkIndexKind.BTree1,
        };
    }

    private static LayoutMessage ReadChunked4(ref Hdf5Cursor cursor)
    {
        byte flags = cursor.U8();
        int rank = cursor.U8();
        CheckRank(ref cursor, rank);
        int encoded = cursor.U8();
        if (encoded is < 1 or > 8)
            throw cursor.Source.Damaged(cursor.ObjectPath, $"Chunk sizes of {encoded} bytes are declared (1 to 8).");
        long[] sizes = new long[rank];
        for (int i = 0; i < rank; i++)
            sizes[i] = (long)cursor.Sized(encoded);
        byte index = cursor.U8();
        long singleBytes = -1;
        uint singleMask = 0;
        switch (index)
        {
            case 1 when (flags & 2) != 0:
                singleBytes = cursor.Length();
                singleMask = cursor.U32();
                break;
            case 1 or 2:
                break;
            case 3:
                cursor.Skip(1);
                break;
            case 4:
                cursor.Skip(5);
                break;
            case 5:
                cursor.Skip(6);
                break;
            default:
                throw cursor.Source.Damaged(cursor.ObjectPath, $"The chunk index has type {index} (known: 1 to 5).");
        }
        return new LayoutMessage
        {
            Kind = LayoutKind.Chunked,
            Address = cursor.Address(),
            Chunk = sizes[..^1],
            Index = (ChunkIndexKind)index,
            EdgesUnfiltered = (flags & 1) != 0,
            SingleBytes = singleBytes,
            SingleMask = singleMask,
        };
    }

    private static void CheckRank(ref Hdf5Cursor cursor, int rank)
    {
        if (rank is < 2 or > 33)
            throw cursor.Source.Damaged(
                cursor.ObjectPath,
                $"A chunk of rank {rank - 1} is declared (possible: 1 to 32)."
            );
    }
}
