using System.Numerics;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>A dataset to be written: contiguous at a fixed place, or chunks wherever they were appended.</summary>
internal sealed class StoredDataset : StoredNode
{
    private const int PageBits = 10;

    public required StoredType Type { get; init; }

    public required long[] Dimensions { get; init; }

    /// <summary>Fill value as stored; empty for zeros.</summary>
    public byte[] Fill { get; init; } = [];

    /// <summary>Contiguous: address of the data.</summary>
    public long DataAddress { get; init; } = -1;

    /// <summary>Chunked: extent of a chunk; empty when contiguous.</summary>
    public long[] Chunk { get; init; } = [];

    /// <summary>Filters in the order applied, with their values.</summary>
    public (int Id, uint[] Values)[] Filters { get; init; } = [];

    /// <summary>Chunked: address and stored bytes by chunk, row-major; address -1 = not written.</summary>
    public (long Address, int Bytes)[] Chunks { get; init; } = [];

    /// <summary>Address of the chunk index; known in the second pass.</summary>
    internal long IndexAddress { get; set; }

    /// <summary>Scales of the axes; empty for none.</summary>
    public StoredDataset[] Scales { get; init; } = [];

    /// <summary>Datasets that this one is a scale of, with the axis.</summary>
    public List<(StoredDataset Dataset, int Axis)> Users { get; } = [];

    /// <summary>Name when this dataset is a dimension scale.</summary>
    public string? ScaleName { get; init; }

    public long CountElements()
    {
        long count = 1;
        foreach (long dimension in Dimensions)
            count *= dimension;
        return count;
    }

    internal override void Messages(ByteWriter writer, ValueSink sink)
    {
        ByteWriter space = new ByteWriter().U8(2).U8(Dimensions.Length).U8(0).U8(Dimensions.Length == 0 ? 0 : 1);
        foreach (long dimension in Dimensions)
            space.I64(dimension);
        HeaderWriter.Message(writer, 0x01, space.Written);
        HeaderWriter.Message(writer, 0x03, Type.Encoded, constant: true);
        // Space: late for contiguous, step by step for chunks; fill written when set.
        int times = (Chunk.Length == 0 ? 2 : 3) | 2 << 2;
        ByteWriter fill = new ByteWriter().U8(3).U8(times | (Fill.Length > 0 ? 0x20 : 0));
        if (Fill.Length > 0)
            fill.U32(Fill.Length).Bytes(Fill);
        HeaderWriter.Message(writer, 0x05, fill.Written, constant: true);
        HeaderWriter.Message(writer, 0x08, Layout().Written);
        if (Filters.Length > 0)
        {
            ByteWriter pipeline = new ByteWriter().U8(2).U8(Filters.Length);
            foreach ((int id, uint[] values) in Filters)
            {
                pipeline.U16(id).U16(id == FilterMessage.Fletcher32 ? 0 : 1).U16(values.Length);
                foreach (uint value in values)
                    pipeline.U32(value);
            }
            HeaderWriter.Message(writer, 0x0b, pipeline.Written, constant: true);
        }
        ScaleAttributes(writer, sink);
    }

    private ByteWriter Layout()
    {
        if (Chunk.Length == 0)
            return new ByteWriter().U8(3).U8(1).I64(DataAddress).I64(CountElements() * Type.SizeBytes);
        ByteWriter layout = new ByteWriter().U8(4).U8(2).U8(0).U8(Chunk.Length + 1).U8(8);
        foreach (long extent in Chunk)
            layout.I64(extent);
        return layout.I64(Type.SizeBytes).U8((int)ChunkIndexKind.FixedArray).U8(PageBits).I64(IndexAddress);
    }

    private void ScaleAttributes(ByteWriter writer, ValueSink sink)
    {
        if (ScaleName is not null)
        {
            HeaderWriter.Attribute(writer, "CLASS", StoredType.TerminatedText(16), [], "DIMENSION_SCALE\0"u8);
            byte[] name = System.Text.Encoding.UTF8.GetBytes(ScaleName + "\0");
            HeaderWriter.Attribute(writer, "NAME", StoredType.TerminatedText(name.Length), [], name);
            if (Users.Count > 0)
            {
                ByteWriter users = new();
                foreach ((StoredDataset dataset, int axis) in Users)
                    users.I64(dataset.Address).U32(axis);
                HeaderWriter.Attribute(writer, "REFERENCE_LIST", StoredType.ScaleUser, [Users.Count], users.Written);
            }
        }
        if (Scales.Length > 0)
        {
            ByteWriter list = new();
            foreach (StoredDataset scale in Scales)
                list.Bytes(sink.Object(BitConverter.GetBytes(scale.Address), 1));
            HeaderWriter.Attribute(
                writer,
                "DIMENSION_LIST",
                StoredType.ReferenceSequence,
                [Scales.Length],
                list.Written
            );
        }
    }

    /// <summary>The index as a fixed array (appendix C): header, then data block, paged above 1024 chunks.</summary>
    internal byte[] BuildIndex()
    {
        bool filtered = Filters.Length > 0;
        long chunkBytes = Type.SizeBytes;
        foreach (long extent in Chunk)
            chunkBytes *= extent;
        int sizeBytes = Math.Min(8, 1 + (BitOperations.Log2((ulong)chunkBytes) + 8) / 8);
        int entry = filtered ? 8 + sizeBytes + 4 : 8;
        int client = filtered ? 1 : 0;
        long headerBytes = 28;
        ByteWriter writer = new();
        writer.Text("FAHD").U8(0).U8(client).U8(entry).U8(PageBits).I64(Chunks.Length).I64(IndexAddress + headerBytes);
        writer.Checksum();
        int block = writer.Length;
        writer.Text("FADB").U8(0).U8(client).I64(IndexAddress);
        int page = 1 << PageBits;
        if (Chunks.Length > page)
        {
            int pages = (Chunks.Length + page - 1) / page;
            Span<byte> bitmap = writer.Take((pages + 7) / 8);
            for (int i = 0; i < pages; i++)
                bitmap[i / 8] |= (byte)(0x80 >> (i % 8));
            writer.Checksum(block);
            for (int i = 0; i < pages; i++)
                Entries(writer, i * page, Math.Min(page, Chunks.Length - i * page), sizeBytes, filtered, writer.Length);
        }
        else
        {
            Entries(writer, 0, Chunks.Length, sizeBytes, filtered, block);
        }
        return writer.Written.ToArray();
    }

    private void Entries(ByteWriter writer, int from, int count, int sizeBytes, bool filtered, int checksumFrom)
    {
        for (int i = from; i < from + count; i++)
        {
            writer.I64(Chunks[i].Address);
            if (filtered)
                writer.Sized(Chunks[i].Bytes, sizeBytes).U32(0);
        }
        writer.Checksum(checksumFrom);
    }
}
