namespace EchoToThickness.Storage.Hdf5;

/// <summary>Decoder of the LZF format (Marc Lehmann's liblzf, as filter 32000 of HDF5 stores it).</summary>
internal static class Lzf
{
    /// <summary>Unpacks; the result must fill the destination exactly.</summary>
    /// <remarks>
    /// A control byte below 32 copies that many + 1 literal bytes. Else its top three bits are the length - 2 (7: one more
    /// byte is added) and the other five with the next byte the distance back - 1.
    /// </remarks>
    /// <returns>False when the packed bytes are damaged.</returns>
    public static bool TryUnpack(ReadOnlySpan<byte> packed, Span<byte> plain)
    {
        int from = 0;
        int to = 0;
        while (from < packed.Length)
        {
            int control = packed[from++];
            if (control < 32)
            {
                int count = control + 1;
                if (count > packed.Length - from || count > plain.Length - to)
                    return false;
                packed.Slice(from, count).CopyTo(plain[to..]);
                from += count;
                to += count;
                continue;
            }
            int length = control >> 5;
            if (length == 7)
            {
                if (from >= packed.Length)
                    return false;
                length += packed[from++];
            }
            length += 2;
            if (from >= packed.Length)
                return false;
            int source = to - ((control & 31) << 8 | packed[from++]) - 1;
            if (source < 0 || length > plain.Length - to)
                return false;
            for (int i = 0; i < length; i++)
                plain[to++] = plain[source++];
        }
        return to == plain.Length;
    }
}
