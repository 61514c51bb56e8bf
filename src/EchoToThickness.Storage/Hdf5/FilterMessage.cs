namespace EchoToThickness.Storage.Hdf5;

/// <summary>One filter of a pipeline as stored (section IV.A.2.l), in the order in which it was applied on writing.</summary>
internal sealed record FilterEntry(int Id, string Name, bool IsOptional, uint[] Values);

/// <summary>Reads the filter pipeline message.</summary>
internal static class FilterMessage
{
    public const int Deflate = 1;
    public const int Shuffle = 2;
    public const int Fletcher32 = 3;
    public const int Szip = 4;
    public const int Nbit = 5;
    public const int ScaleOffset = 6;
    public const int Lzf = 32000;

    public static FilterEntry[] Read(ReadOnlySpan<byte> body, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        byte version = cursor.U8();
        if (version is not (1 or 2))
            throw source.Damaged(objectPath, $"The filter pipeline has version {version} (known: 1 and 2).");
        int count = cursor.U8();
        if (count > 32)
            throw source.Damaged(objectPath, $"{count} filters are declared (possible: up to 32).");
        if (version == 1)
            cursor.Skip(6);
        FilterEntry[] filters = new FilterEntry[count];
        for (int i = 0; i < count; i++)
        {
            int id = cursor.U16();
            int nameLength = version == 1 || id >= 256 ? cursor.U16() : 0;
            int flags = cursor.U16();
            int values = cursor.U16();
            ReadOnlySpan<byte> name = cursor.Take(version == 1 ? (nameLength + 7) / 8 * 8 : nameLength);
            int end = name.IndexOf((byte)0);
            string text = System.Text.Encoding.UTF8.GetString(end < 0 ? name : name[..end]);
            uint[] numbers = new uint[Math.Min(values, cursor.Remaining / 4)];
            if (numbers.Length < values)
                throw source.Damaged(objectPath, $"Filter {id} declares {values} values, more than its message holds.");
            for (int v = 0; v < values; v++)
                numbers[v] = cursor.U32();
            if (version == 1 && values % 2 != 0)
                cursor.Skip(4);
            filters[i] = new FilterEntry(id, text.Length > 0 ? text : NameOf(id), (flags & 1) != 0, numbers);
        }
        return filters;
    }

    public static string NameOf(int id) =>
        id switch
        {
            Deflate => "deflate",
            Shuffle => "shuffle",
            Fletcher32 => "fletcher32",
            Szip => "szip",
            Nbit => "nbit",
            ScaleOffset => "scaleoffset",
            Lzf => "lzf",
            _ => $"filter {id}",
        };
}
