using Microsoft.Win32.SafeHandles;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>
/// Writes an HDF5 file (superblock 2, readable by HDF5 1.10 and later): data first, at addresses handed out here, structure
/// after them, the superblock last. Every byte of structure but the heap of long strings is covered by a checksum, and the
/// same calls give the same bytes. Thread-safe for <see cref="Reserve"/> and <see cref="WriteAt"/>.
/// </summary>
internal sealed class Hdf5Builder(SafeFileHandle handle)
{
    private const int SuperblockBytes = 48;
    private long _end = 64;

    public StoredGroup Root { get; } = new();

    /// <summary>Sets bytes of the file aside.</summary>
    /// <returns>Their address.</returns>
    public long Reserve(long bytes)
    {
        // Large blocks start on a page.
        long align = bytes >= 1 << 20 ? 4096 : 8;
        while (true)
        {
            long seen = Interlocked.Read(ref _end);
            long at = (seen + align - 1) / align * align;
            if (Interlocked.CompareExchange(ref _end, at + bytes, seen) == seen)
                return at;
        }
    }

    public void WriteAt(long address, ReadOnlySpan<byte> bytes) => RandomAccess.Write(handle, bytes, address);

    /// <summary>Appends the bytes of a chunk and their Fletcher-32 checksum.</summary>
    /// <returns>Address and stored length.</returns>
    public (long Address, int Bytes) AppendSealed(ReadOnlySpan<byte> bytes)
    {
        long address = Reserve(bytes.Length + 4);
        Span<byte> seal = stackalloc byte[4];
        System.Buffers.Binary.BinaryPrimitives.WriteUInt32LittleEndian(seal, Hdf5Checksums.Fletcher32(bytes));
        WriteAt(address, bytes);
        WriteAt(address + bytes.Length, seal);
        return (address, bytes.Length + 4);
    }

    /// <summary>A small dataset in one chunk, so that it carries a checksum.</summary>
    public StoredDataset AddSmall(
        StoredGroup parent,
        string name,
        StoredType type,
        long[] dimensions,
        ReadOnlySpan<byte> raw,
        string? scale = null
    )
    {
        StoredDataset dataset = new()
        {
            Type = type,
            Dimensions = dimensions,
            Chunk = dimensions,
            Filters = [(FilterMessage.Fletcher32, [])],
            Chunks = [AppendSealed(raw)],
            ScaleName = scale,
        };
        parent.Members.Add((name, dataset));
        return dataset;
    }

    /// <summary>Writes the structure and the superblock.</summary>
    public void Finish()
    {
        List<StoredNode> nodes = [];
        Collect(Root, nodes);
        // First pass: sizes do not depend on addresses. Second pass: the same with the addresses.
        ValueSink sink = new();
        foreach (StoredNode node in nodes)
        {
            node.Address = Reserve(HeaderWriter.Build(node, sink).Length);
            if (node is StoredDataset { Chunk.Length: > 0 } dataset)
                dataset.IndexAddress = Reserve(dataset.BuildIndex().Length);
        }
        sink.Address = Reserve(sink.Measure());
        sink.Reset();
        foreach (StoredNode node in nodes)
        {
            WriteAt(node.Address, HeaderWriter.Build(node, sink));
            if (node is StoredDataset { Chunk.Length: > 0 } dataset)
                WriteAt(dataset.IndexAddress, dataset.BuildIndex());
        }
        if (sink.Build() is { Length: > 0 } heap)
            WriteAt(sink.Address, heap);
        ByteWriter superblock = new();
        superblock.Bytes([0x89, (byte)'H', (byte)'D', (byte)'F', 0x0d, 0x0a, 0x1a, 0x0a]);
        superblock.U8(2).U8(8).U8(8).U8(0).I64(0).I64(-1).I64(_end).I64(Root.Address).Checksum();
        if (superblock.Length != SuperblockBytes)
            throw new InvalidOperationException("The superblock has the wrong length.");
        // The file ends where the superblock says, whatever was reserved last.
        if (RandomAccess.GetLength(handle) < _end)
            RandomAccess.SetLength(handle, _end);
        WriteAt(0, superblock.Written);
    }

    private static void Collect(StoredGroup group, List<StoredNode> nodes)
    {
        nodes.Add(group);
        foreach ((_, StoredNode member) in group.Members)
        {
            if (member is StoredGroup inner)
                Collect(inner, nodes);
            else
                nodes.Add(member);
        }
    }
}
