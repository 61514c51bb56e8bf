namespace EchoToThickness.Storage.Hdf5;

/// <summary>The superblock (file format specification, section II.A): field sizes, base address and the root group.</summary>
internal static class Superblock
{
    private static ReadOnlySpan<byte> Mark => [0x89, (byte)'H', (byte)'D', (byte)'F', 0x0d, 0x0a, 0x1a, 0x0a];

    /// <summary>Finds and reads the superblock, sets the source's base address and field sizes.</summary>
    /// <returns>Address of the root group's object header.</returns>
    public static long Read(Hdf5Source source)
    {
        source.BaseAddress = Find(source);
        long available = source.Length - source.BaseAddress;
        byte[] block = source.Read(0, Math.Min(available, 128), "superblock");
        Hdf5Cursor cursor = new(block, source, "superblock");
        cursor.Skip(8);
        byte version = cursor.U8();
        if (version > 3)
        {
            throw source.Unsupported(
                "superblock",
                $"The superblock has version {version} (known: 0 to 3).",
                "rewrite the file with HDF5 1.8 to 1.14 (h5repack), or copy it again if it is damaged."
            );
        }
        return version < 2 ? ReadOld(ref cursor, version) : ReadNew(ref cursor, block);
    }

    private static long Find(Hdf5Source source)
    {
        Span<byte> found = stackalloc byte[8];
        for (long at = 0; at + 8 <= source.Length; at = at == 0 ? 512 : at * 2)
        {
            source.ReadExactly(at, found, "superblock");
            if (found.SequenceEqual(Mark))
                return at;
        }
        throw new Stacks.StackFormatException(
            source.Length == 0 ? "The file is empty." : "This is not an HDF5 file: its signature is missing.",
            source.Path,
            "",
            "give an HDF5 file; for .npy, raw binary or a folder of files write a layout map that says so."
        );
    }

    private static long ReadOld(ref Hdf5Cursor cursor, byte version)
    {
        Hdf5Source source = cursor.Source;
        cursor.Skip(4);
        ReadSizes(ref cursor);
        cursor.Skip(1 + 2 + 2 + 4 + (version == 1 ? 4 : 0));
        cursor.Address(); // base address: where the signature was found holds
        cursor.Address();
        CheckEnd(source, cursor.Sized(source.OffsetSize));
        cursor.Address();
        cursor.Skip(source.OffsetSize); // link name of the root entry
        return cursor.DefinedAddress("root group");
    }

    private static long ReadNew(ref Hdf5Cursor cursor, byte[] block)
    {
        Hdf5Source source = cursor.Source;
        ReadSizes(ref cursor);
        cursor.Skip(1);
        int length = 12 + 4 * source.OffsetSize + 4;
        source.VerifyChecksum(block.AsSpan(0, Math.Min(length, block.Length)), "superblock", "superblock");
        cursor.Address();
        cursor.Address();
        CheckEnd(source, cursor.Sized(source.OffsetSize));
        return cursor.DefinedAddress("root group");
    }

    private static void ReadSizes(ref Hdf5Cursor cursor)
    {
        Hdf5Source source = cursor.Source;
        source.OffsetSize = cursor.U8();
        source.LengthSize = cursor.U8();
        if (source.OffsetSize is not (2 or 4 or 8) || source.LengthSize is not (2 or 4 or 8))
        {
            throw source.Damaged(
                "superblock",
                $"Addresses of {source.OffsetSize} and lengths of {source.LengthSize} bytes are declared (possible: 2, 4, 8)."
            );
        }
    }

    private static void CheckEnd(Hdf5Source source, ulong endOfFile)
    {
        if (endOfFile > (ulong)source.Length)
        {
            throw source.Damaged(
                "superblock",
                $"The file should be {endOfFile} bytes long, but {source.Length} are there: it is truncated."
            );
        }
    }
}
