namespace EchoToThickness.Storage.Hdf5;

/// <summary>Looks up sequences of variable length (section III.E).</summary>
internal static class GlobalHeap
{
    /// <summary>Reads the sequence that a 16-byte (or shorter) descriptor refers to.</summary>
    public static ReadOnlyMemory<byte> Get(
        ReadOnlySpan<byte> descriptor,
        int elementBytes,
        Hdf5Source source,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(descriptor, source, objectPath);
        long length = (long)cursor.U32() * elementBytes;
        long address = cursor.Address();
        uint index = cursor.U32();
        if (length == 0 || address <= 0)
            return ReadOnlyMemory<byte>.Empty;
        byte[] head = source.Read(address, 8 + source.LengthSize, objectPath);
        Hdf5Cursor start = new(head, source, objectPath);
        start.Signature("GCOL");
        start.Version(1, 1, "global heap");
        start.Skip(3);
        long size = start.Length();
        if (size > source.Limits.SmallObjectBytes)
            throw source.Damaged(
                objectPath,
                $"A heap of {size} bytes is above the limit of {source.Limits.SmallObjectBytes}."
            );
        byte[] block = source.Read(address, size, objectPath);
        Hdf5Cursor at = new(block, source, objectPath);
        at.Skip(8 + source.LengthSize);
        while (at.Remaining >= 8 + source.LengthSize)
        {
            int found = at.U16();
            at.Skip(6);
            long bytes = at.Length();
            if (found == 0)
                break;
            if (found == index)
            {
                if (length > bytes || bytes > at.Remaining)
                    throw source.Damaged(objectPath, "A value of variable length runs past its heap.");
                return block.AsMemory(at.Position, (int)length);
            }
            at.Skip((bytes + 7) / 8 * 8);
        }
        throw source.Damaged(objectPath, $"Object {index} is missing from its heap.");
    }
}
