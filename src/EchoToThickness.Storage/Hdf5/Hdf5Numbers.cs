using System.Buffers.Binary;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Single stored numbers, either byte order, to the types of a formula.</summary>
internal static class Hdf5Numbers
{
    /// <summary>An integer of 1, 2, 4 or 8 bytes.</summary>
    public static long ToInt64(ReadOnlySpan<byte> raw, Hdf5Type type)
    {
        ulong value = 0;
        for (int i = 0; i < raw.Length; i++)
            value = value << 8 | raw[type.IsBigEndian ? i : raw.Length - 1 - i];
        int unused = 64 - 8 * Math.Min(raw.Length, 8);
        return type.IsSigned ? (long)(value << unused) >> unused : (long)value;
    }

    /// <summary>A standard integer, enumeration or float as double.</summary>
    public static double ToDouble(ReadOnlySpan<byte> raw, Hdf5Type type)
    {
        if (type.Class == Hdf5TypeClass.Float)
        {
            return (raw.Length, type.IsBigEndian) switch
            {
                (4, false) => BinaryPrimitives.ReadSingleLittleEndian(raw),
                (4, true) => BinaryPrimitives.ReadSingleBigEndian(raw),
                (8, false) => BinaryPrimitives.ReadDoubleLittleEndian(raw),
                _ => BinaryPrimitives.ReadDoubleBigEndian(raw),
            };
        }
        long whole = ToInt64(raw, type);
        return type.IsSigned || raw.Length < 8 ? whole : (ulong)whole;
    }
}
