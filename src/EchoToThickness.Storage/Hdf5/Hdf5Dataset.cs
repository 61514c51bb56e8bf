using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>A dataset: extent, type and addresses, checked against the file. Shared by readers of several threads.</summary>
public sealed class Hdf5Dataset
{
    private readonly ObjectHeader _header;

    internal Hdf5Dataset(Hdf5Source source, ObjectHeader header, string path)
    {
        Source = source;
        _header = header;
        Path = path;
        Type = header.TryGet(ObjectHeader.Datatype, out HeaderMessage type)
            ? DatatypeMessage.Read(ObjectHeader.Resolve(source, type, path).Span, source, path)
            : throw source.Damaged(path, "The dataset has no datatype.");
        Space = header.TryGet(ObjectHeader.Dataspace, out HeaderMessage space)
            ? DataspaceMessage.Read(ObjectHeader.Resolve(source, space, path).Span, source, path)
            : throw source.Damaged(path, "The dataset has no extent.");
        Layout = header.TryGet(ObjectHeader.Layout, out HeaderMessage layout)
            ? LayoutMessage.Read(layout.Body.Span, source, path)
            : throw source.Damaged(path, "The dataset has no layout.");
        FilterEntries = header.TryGet(ObjectHeader.Filters, out HeaderMessage filters)
            ? FilterMessage.Read(ObjectHeader.Resolve(source, filters, path).Span, source, path)
            : [];
        Count = Space.Count(source, path);
        FillBytes = ReadFill();
        Check();
    }

    /// <summary>Path from the root.</summary>
    public string Path { get; }

    /// <summary>Extent; empty for a scalar.</summary>
    public IReadOnlyList<long> Dimensions => Space.Dimensions;

    /// <summary>Elements.</summary>
    public long Count { get; }

    /// <summary>Stored type.</summary>
    public Hdf5Type Type { get; }

    /// <summary>Extent of a chunk in elements; empty when not chunked.</summary>
    public IReadOnlyList<long> ChunkDimensions => Layout.Chunk;

    /// <summary>Filters in the order in which they were applied on writing, by name.</summary>
    public IReadOnlyList<string> Filters => Array.ConvertAll(FilterEntries, f => f.Name);

    /// <summary>Whether every stored chunk carries a checksum.</summary>
    public bool IsChecksummed => Array.Exists(FilterEntries, f => f.Id == FilterMessage.Fletcher32);

    /// <summary>Whether the bytes are read beside the HDF5 library (else through it, slower, with the same answer).</summary>
    public bool HasFastPath => UnknownReason is null;

    internal Hdf5Source Source { get; }

    internal DataspaceMessage Space { get; }

    internal LayoutMessage Layout { get; }

    internal FilterEntry[] FilterEntries { get; }

    internal ChunkTable? Chunks { get; private set; }

    /// <summary>One element that stands for data never written, as stored.</summary>
    internal byte[] FillBytes { get; }

    /// <summary>Why the bytes cannot be read directly; null when they can.</summary>
    internal string? UnknownReason { get; private set; }

    internal long ChunkBytes { get; private set; }

    /// <summary>Opens a reader for one thread.</summary>
    public Hdf5Reader OpenReader() => new(this, UnknownReason is not null);

    /// <summary>Opens a reader that goes through the HDF5 library whatever the layout: the reference for the direct one.</summary>
    public Hdf5Reader OpenLibraryReader() => new(this, true);

    /// <summary>File offset of a contiguous dataset's first element, counted from the first byte of the file.</summary>
    /// <param name="fileOffset">The offset.</param>
    /// <returns>False when the dataset is not contiguous or nothing was stored.</returns>
    public bool TryGetFileOffset(out long fileOffset)
    {
        bool contiguous = Layout.Kind == LayoutKind.Contiguous && Layout.Address >= 0;
        fileOffset = contiguous ? Layout.Address + Source.BaseAddress : -1;
        return contiguous;
    }

    /// <summary>Reads a small numeric dataset whole, shape flattened in stored order.</summary>
    /// <exception cref="StackFormatException">Not numbers, too large, or damaged.</exception>
    public double[] ReadDoubles()
    {
        if (!Hdf5Values.IsNumeric(Type))
            throw Source.Unsupported(
                Path,
                $"Numbers were expected; stored: {Type.Describe()}.",
                "write integers or floats."
            );
        byte[] raw = ReadSmall();
        return Hdf5Values.Doubles(raw, Type.IsBigEndian ? Type with { IsBigEndian = false } : Type, Count);
    }

    /// <summary>Reads a small dataset of strings whole.</summary>
    /// <exception cref="StackFormatException">Not strings, too large, or damaged.</exception>
    public string[] ReadTexts() =>
        Hdf5Values.IsText(Type)
            ? Hdf5Values.Texts(ReadSmall(), Type, Count, Source, Path)
            : throw Source.Unsupported(Path, $"Strings were expected; stored: {Type.Describe()}.", "write strings.");

    /// <summary>Attributes of the dataset.</summary>
    public IReadOnlyList<Hdf5Attribute> Attributes() => Hdf5Attribute.ReadAll(Source, _header, Path);

    internal byte[] ReadSmall()
    {
        long bytes = Count * Type.SizeBytes;
        if (bytes > Source.Limits.SmallObjectBytes)
        {
            throw Source.Damaged(
                Path,
                $"The dataset holds {bytes} bytes, above the limit of {Source.Limits.SmallObjectBytes} for one read whole."
            );
        }
        byte[] raw = new byte[bytes];
        using Hdf5Reader reader = OpenReader();
        reader.Read(new long[Space.Dimensions.Length], Space.Dimensions, raw);
        return raw;
    }

    private byte[] ReadFill()
    {
        byte[] fill = new byte[Type.SizeBytes];
        if (_header.TryGet(ObjectHeader.Fill, out HeaderMessage message))
        {
            Hdf5Cursor cursor = new(ObjectHeader.Resolve(Source, message, Path).Span, Source, Path);
            byte version = cursor.U8();
            bool defined;
            if (version == 3)
            {
                defined = (cursor.U8() & 0x20) != 0;
            }
            else
            {
                cursor.Skip(2);
                defined = cursor.U8() != 0 || version == 1;
            }
            if (defined && cursor.U32() is uint size && size == fill.Length)
                cursor.Take(size).CopyTo(fill);
        }
        else if (_header.TryGet(ObjectHeader.FillOld, out HeaderMessage old))
        {
            Hdf5Cursor cursor = new(ObjectHeader.Resolve(Source, old, Path).Span, Source, Path);
            if (cursor.U32() is uint size && size == fill.Length)
                cursor.Take(size).CopyTo(fill);
        }
        return fill;
    }

    private void Check()
    {
        if (_header.Has(ObjectHeader.ExternalFiles) || Layout.Kind == LayoutKind.Virtual)
        {
            throw Source.Unsupported(
                Path,
                "The dataset's elements lie in other files, which is refused: the data must lie in the file that is hashed.",
                "gather them into one file (h5repack, or h5py: write dataset[...] to a new file)."
            );
        }
        Int128 bytes = (Int128)Count * Type.SizeBytes;
        if (bytes > long.MaxValue / 4)
            throw Source.Damaged(Path, $"An extent of {string.Join(" x ", Space.Dimensions)} elements is absurd.");
        switch (Layout.Kind)
        {
            case LayoutKind.Compact when Layout.Compact.Length < bytes:
                throw Source.Damaged(Path, $"The dataset needs {bytes} bytes, {Layout.Compact.Length} are stored.");
            case LayoutKind.Contiguous:
                CheckContiguous((long)bytes);
                break;
            case LayoutKind.Chunked:
                CheckChunked((double)bytes);
                break;
        }
    }

    private void CheckContiguous(long bytes)
    {
        if (FilterEntries.Length > 0)
            throw Source.Damaged(Path, "A dataset without chunks cannot have filters.");
        if (Layout.Address < 0)
        {
            CheckExpansion(bytes);
            return;
        }
        long room = Source.Length - Source.BaseAddress - Layout.Address;
        if (bytes > room)
        {
            throw Source.Damaged(
                Path,
                $"The dataset needs {bytes} bytes from address {Layout.Address}, but the file ends after {room}: it is truncated or damaged."
            );
        }
        if (Layout.SizeBytes >= 0 && Layout.SizeBytes < bytes)
            throw Source.Damaged(Path, $"The dataset needs {bytes} bytes, {Layout.SizeBytes} are set aside.");
    }

    private void CheckChunked(double bytes)
    {
        if (Layout.Chunk.Length != Space.Dimensions.Length)
            throw Source.Damaged(
                Path,
                $"Chunks of rank {Layout.Chunk.Length} in a dataset of rank {Space.Dimensions.Length}."
            );
        Int128 chunkBytes = Type.SizeBytes;
        foreach (long extent in Layout.Chunk)
        {
            if (extent <= 0)
                throw Source.Damaged(Path, $"A chunk of {string.Join(" x ", Layout.Chunk)} elements is declared.");
            chunkBytes *= extent;
            if (chunkBytes > Source.Limits.ChunkBytes)
            {
                throw Source.Damaged(
                    Path,
                    $"A chunk of {string.Join(" x ", Layout.Chunk)} elements is above the limit of {Source.Limits.ChunkBytes} bytes."
                );
            }
        }
        ChunkBytes = (long)chunkBytes;
        CheckExpansion(bytes);
        // A chunk that claims to unpack to more than any filter can pack is not allocated.
        if (ChunkBytes > Source.Length * Source.Limits.ExpansionFactor + (1 << 20))
            throw Source.Damaged(
                Path,
                $"A chunk of {ChunkBytes} bytes cannot come from a file of {Source.Length} bytes."
            );
        foreach (FilterEntry filter in FilterEntries)
        {
            if (
                filter.Id
                is not (FilterMessage.Deflate or FilterMessage.Shuffle or FilterMessage.Fletcher32 or FilterMessage.Lzf)
            )
                UnknownReason = $"filter {filter.Name}";
        }
        Chunks = ChunkIndex.Read(Source, Layout, Space, Type.SizeBytes, FilterEntries.Length > 0, Path);
        if (Chunks is null)
            UnknownReason = "an extensible array as chunk index";
    }

    private void CheckExpansion(double bytes)
    {
        if (bytes > Source.Length * Source.Limits.ExpansionFactor + Source.Limits.SmallObjectBytes)
        {
            throw Source.Damaged(
                Path,
                $"An extent of {string.Join(" x ", Space.Dimensions)} elements cannot come from a file of {Source.Length} bytes."
            );
        }
    }
}
