namespace EchoToThickness.Storage.Hdf5;

/// <summary>Extent of a dataset or attribute (section IV.A.2.b).</summary>
/// <param name="Dimensions">Empty for a scalar.</param>
/// <param name="MaxDimensions">Upper limits, -1 unlimited.</param>
/// <param name="IsNull">No elements at all.</param>
internal sealed record DataspaceMessage(long[] Dimensions, long[] MaxDimensions, bool IsNull)
{
    public static DataspaceMessage Read(ReadOnlySpan<byte> body, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        byte version = cursor.U8();
        int rank = cursor.U8();
        byte flags = cursor.U8();
        bool isNull = false;
        if (version == 1)
            cursor.Skip(5);
        else if (version == 2)
            isNull = cursor.U8() == 2;
        else
            throw source.Damaged(objectPath, $"The dataspace has version {version} (known: 1 and 2).");
        if (rank > 32)
            throw source.Damaged(objectPath, $"A rank of {rank} is declared (possible: 0 to 32).");
        long[] dimensions = new long[rank];
        for (int i = 0; i < rank; i++)
            dimensions[i] = cursor.Length();
        long[] most = (long[])dimensions.Clone();
        if ((flags & 1) != 0)
        {
            for (int i = 0; i < rank; i++)
            {
                ulong value = cursor.Sized(source.LengthSize);
                most[i] = value > long.MaxValue || value == uint.MaxValue && source.LengthSize == 4 ? -1 : (long)value;
                if (most[i] >= 0 && most[i] < dimensions[i])
                    throw source.Damaged(
                        objectPath,
                        $"Dimension {i} is {dimensions[i]}, above its own maximum {most[i]}."
                    );
            }
        }
        return new DataspaceMessage(dimensions, most, isNull);
    }

    /// <summary>Elements; an absurd product is refused.</summary>
    public long Count(Hdf5Source source, string objectPath)
    {
        if (IsNull)
            return 0;
        UInt128 count = 1;
        foreach (long dimension in Dimensions)
        {
            count *= (UInt128)dimension;
            if (count > long.MaxValue / 16)
                throw source.Damaged(objectPath, $"An extent of {string.Join(" x ", Dimensions)} elements is absurd.");
        }
        return (long)count;
    }
}
