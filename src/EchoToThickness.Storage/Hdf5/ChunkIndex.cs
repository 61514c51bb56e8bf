namespace EchoToThickness.Storage.Hdf5;

/// <summary>Reads the index of a chunked dataset into a <see cref="ChunkTable"/> (sections III.A.1 and IV.A.2.i, appendix C).</summary>
internal static class ChunkIndex
{
    /// <returns>Null for an index that is not known here.</returns>
    public static ChunkTable? Read(
        Hdf5Source source,
        LayoutMessage layout,
        DataspaceMessage space,
        int elementBytes,
        bool filtered,
        string objectPath
    )
    {
        if (layout.Index == ChunkIndexKind.ExtensibleArray)
            return null;
        ChunkTable table = new(space.Dimensions, layout.Chunk, source, objectPath);
        if (layout.Address < 0)
            return table;
        long chunkBytes = elementBytes;
        foreach (long extent in layout.Chunk)
            chunkBytes *= extent;
        switch (layout.Index)
        {
            case ChunkIndexKind.BTree1:
                Node1(source, layout.Address, table, objectPath, 0, int.MaxValue);
                break;
            case ChunkIndexKind.Single:
                if (table.Addresses.Length == 1)
                {
                    long stored = layout.SingleBytes >= 0 ? layout.SingleBytes : chunkBytes;
                    table.Set(0, layout.Address, stored, layout.SingleMask, source, objectPath);
                }
                break;
            case ChunkIndexKind.Implicit:
                long[] steps = Steps(space, layout.Chunk);
                ForEach(
                    table,
                    steps,
                    (chunk, slot) =>
                        table.Set(chunk, layout.Address + slot * chunkBytes, chunkBytes, 0, source, objectPath)
                );
                break;
            case ChunkIndexKind.FixedArray:
                FixedArray(source, layout, space, table, chunkBytes, filtered, objectPath);
                break;
            case ChunkIndexKind.BTree2:
                Tree2(source, layout, table, chunkBytes, filtered, objectPath);
                break;
        }
        return table;
    }

    private static void Node1(
        Hdf5Source source,
        long address,
        ChunkTable table,
        string objectPath,
        int depth,
        int expected
    )
    {
        int rank = table.Chunk.Length;
        int headBytes = 8 + 2 * source.OffsetSize;
        Hdf5Cursor cursor = new(source.Read(address, headBytes, objectPath), source, objectPath);
        cursor.Signature("TREE");
        byte type = cursor.U8();
        int level = cursor.U8();
        int count = cursor.U16();
        if (type != 1 || depth > 16 || expected != int.MaxValue && level != expected)
            throw source.Damaged(objectPath, "The index of the chunks is damaged.");
        int keyBytes = 8 + 8 * (rank + 1);
        int stride = keyBytes + source.OffsetSize;
        byte[] entries = source.Read(address + headBytes, (long)count * stride, objectPath);
        for (int i = 0; i < count; i++)
        {
            Hdf5Cursor at = new(entries.AsSpan(i * stride, stride), source, objectPath);
            uint stored = at.U32();
            uint mask = at.U32();
            long index = 0;
            bool inside = true;
            for (int axis = 0; axis < rank; axis++)
            {
                ulong offset = at.U64();
                ulong chunk = (ulong)table.Chunk[axis];
                if (level == 0 && offset % chunk != 0)
                    throw source.Damaged(
                        objectPath,
                        $"A chunk lies at element {offset} of axis {axis}, off the grid of {chunk}."
                    );
                ulong cell = offset / chunk;
                inside &= cell < (ulong)table.Counts[axis];
                index = inside ? index * table.Counts[axis] + (long)cell : -1;
            }
            at.Skip(8);
            long child = at.DefinedAddress("chunk");
            if (level > 0)
                Node1(source, child, table, objectPath, depth + 1, level - 1);
            else if (inside)
                table.Set(index, child, stored, mask, source, objectPath);
        }
    }

    private static void FixedArray(
        Hdf5Source source,
        LayoutMessage layout,
        DataspaceMessage space,
        ChunkTable table,
        long chunkBytes,
        bool filtered,
        string objectPath
    )
    {
        byte[] header = source.Read(layout.Address, 12 + source.LengthSize + source.OffsetSize, objectPath);
        Hdf5Cursor cursor = new(header, source, objectPath);
        cursor.Signature("FAHD");
        cursor.Version(0, 0, "chunk index");
        source.VerifyChecksum(header, objectPath, "chunk index");
        int client = cursor.U8();
        int entry = cursor.U8();
        int pageBits = cursor.U8();
        long most = cursor.Length();
        long data = cursor.Address();
        int sizeBytes = entry - source.OffsetSize - 4;
        if (
            client != (filtered ? 1 : 0)
            || filtered && sizeBytes is < 1 or > 8
            || !filtered && entry != source.OffsetSize
        )
            throw source.Damaged(objectPath, "The index of the chunks does not fit the filters.");
        long[] steps = Steps(space, layout.Chunk);
        if (data < 0 || table.Addresses.Length == 0)
            return;
        if (pageBits > 30 || most > source.Limits.Chunks)
            throw source.Damaged(
                objectPath,
                $"An index of {most} chunks is above the limit of {source.Limits.Chunks}."
            );
        byte[] entries = FixedArrayEntries(source, data, entry, pageBits, most, objectPath);
        ForEach(
            table,
            steps,
            (chunk, slot) =>
            {
                if (slot >= most)
                    throw source.Damaged(
                        objectPath,
                        $"The index of the chunks holds {most} entries; chunk {slot} is asked for."
                    );
                Hdf5Cursor at = new(entries.AsSpan((int)(slot * entry), entry), source, objectPath);
                long address = at.Address();
                long stored = filtered ? (long)at.Sized(sizeBytes) : chunkBytes;
                table.Set(chunk, address, stored, filtered ? at.U32() : 0, source, objectPath);
            }
        );
    }

    private static byte[] FixedArrayEntries(
        Hdf5Source source,
        long data,
        int entry,
        int pageBits,
        long most,
        string objectPath
    )
    {
        int head = 6 + source.OffsetSize;
        long perPage = 1L << pageBits;
        if (most <= perPage)
        {
            byte[] whole = source.Read(data, head + most * entry + 4, objectPath);
            new Hdf5Cursor(whole, source, objectPath).Signature("FADB");
            source.VerifyChecksum(whole, objectPath, "chunk index");
            return whole[head..^4];
        }
        long pages = (most + perPage - 1) / perPage;
        long bitmap = (pages + 7) / 8;
        byte[] prefix = source.Read(data, head + bitmap + 4, objectPath);
        new Hdf5Cursor(prefix, source, objectPath).Signature("FADB");
        source.VerifyChecksum(prefix, objectPath, "chunk index");
        byte[] entries = new byte[most * entry];
        entries.AsSpan().Fill(0xff);
        long at = data + prefix.Length;
        for (long page = 0; page < pages; page++)
        {
            long count = Math.Min(perPage, most - page * perPage);
            if ((prefix[head + page / 8] & (0x80 >> (int)(page % 8))) != 0)
            {
                byte[] block = source.Read(at, count * entry + 4, objectPath);
                source.VerifyChecksum(block, objectPath, "page of the chunk index");
                block.AsSpan(0, block.Length - 4).CopyTo(entries.AsSpan((int)(page * perPage * entry)));
            }
            at += perPage * entry + 4;
        }
        return entries;
    }

    private static void Tree2(
        Hdf5Source source,
        LayoutMessage layout,
        ChunkTable table,
        long chunkBytes,
        bool filtered,
        string objectPath
    )
    {
        int rank = table.Chunk.Length;
        List<ReadOnlyMemory<byte>> records = BTree2.Records(
            source,
            layout.Address,
            filtered ? 11 : 10,
            source.Limits.Chunks,
            objectPath
        );
        foreach (ReadOnlyMemory<byte> record in records)
        {
            int sizeBytes = record.Length - source.OffsetSize - 4 - 8 * rank;
            if (filtered && sizeBytes is < 1 or > 8)
                throw source.Damaged(objectPath, "A record of the chunk index has the wrong length.");
            Hdf5Cursor at = new(record.Span, source, objectPath);
            long address = at.Address();
            long stored = filtered ? (long)at.Sized(sizeBytes) : chunkBytes;
            uint mask = filtered ? at.U32() : 0;
            long index = 0;
            bool inside = true;
            for (int axis = 0; axis < rank; axis++)
            {
                ulong cell = at.U64();
                inside &= cell < (ulong)table.Counts[axis];
                index = inside ? index * table.Counts[axis] + (long)cell : -1;
            }
            if (inside)
                table.Set(index, address, stored, mask, source, objectPath);
        }
    }

    /// <summary>Slots of an array index from one chunk to the next along each axis: they follow the maximum extent.</summary>
    private static long[] Steps(DataspaceMessage space, long[] chunk)
    {
        long[] steps = new long[chunk.Length];
        long step = 1;
        for (int axis = chunk.Length - 1; axis >= 0; axis--)
        {
            steps[axis] = step;
            long extent = space.MaxDimensions[axis] < 0 ? space.Dimensions[axis] : space.MaxDimensions[axis];
            step = unchecked(step * ((extent + chunk[axis] - 1) / chunk[axis]));
        }
        return steps;
    }

    private static void ForEach(ChunkTable table, long[] steps, Action<long, long> visit)
    {
        int rank = steps.Length;
        long[] cell = new long[rank];
        for (long chunk = 0; chunk < table.Addresses.Length; chunk++)
        {
            long slot = 0;
            for (int axis = 0; axis < rank; axis++)
                slot = unchecked(slot + cell[axis] * steps[axis]);
            visit(chunk, slot < 0 ? long.MaxValue : slot);
            for (int axis = rank - 1; axis >= 0 && ++cell[axis] == table.Counts[axis]; axis--)
                cell[axis] = 0;
        }
    }
}
