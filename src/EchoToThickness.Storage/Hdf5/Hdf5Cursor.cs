using System.Buffers.Binary;
using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Reads little-endian fields off a block of structure; running off its end is a typed error.</summary>
internal ref struct Hdf5Cursor(ReadOnlySpan<byte> block, Hdf5Source source, string objectPath)
{
    private readonly ReadOnlySpan<byte> _block = block;
    private int _at = 0;

    public readonly int Position => _at;

    public readonly int Remaining => _block.Length - _at;

    public readonly Hdf5Source Source => source;

    public readonly string ObjectPath => objectPath;

    public ReadOnlySpan<byte> Take(long count)
    {
        if (count < 0 || count > Remaining)
            throw source.Damaged(objectPath, $"A record of the structure needs {count} bytes, {Remaining} are left.");
        ReadOnlySpan<byte> taken = _block.Slice(_at, (int)count);
        _at += (int)count;
        return taken;
    }

    public void Skip(long count) => Take(count);

    public byte U8() => Take(1)[0];

    public ushort U16() => BinaryPrimitives.ReadUInt16LittleEndian(Take(2));

    public uint U32() => BinaryPrimitives.ReadUInt32LittleEndian(Take(4));

    public ulong U64() => BinaryPrimitives.ReadUInt64LittleEndian(Take(8));

    /// <summary>An unsigned number of 1 to 8 bytes.</summary>
    public ulong Sized(int bytes)
    {
        ReadOnlySpan<byte> raw = Take(bytes);
        ulong value = 0;
        for (int i = bytes - 1; i >= 0; i--)
            value = value << 8 | raw[i];
        return value;
    }

    /// <summary>An address, -1 when undefined.</summary>
    public long Address()
    {
        int size = source.OffsetSize;
        ulong value = Sized(size);
        ulong undefined = size == 8 ? ulong.MaxValue : (1UL << (8 * size)) - 1;
        if (value == undefined)
            return -1;
        if (value > (ulong)source.Length)
            throw source.Damaged(
                objectPath,
                $"Address {value} lies beyond the end of the file ({source.Length} bytes)."
            );
        return (long)value;
    }

    /// <summary>An address that must be there.</summary>
    public long DefinedAddress(string what)
    {
        long address = Address();
        return address >= 0 ? address : throw source.Damaged(objectPath, $"The address of the {what} is undefined.");
    }

    /// <summary>A length field.</summary>
    public long Length()
    {
        ulong value = Sized(source.LengthSize);
        return value <= long.MaxValue
            ? (long)value
            : throw source.Damaged(objectPath, $"A length of {value} is absurd.");
    }

    public void Signature(string expected)
    {
        ReadOnlySpan<byte> raw = Take(4);
        for (int i = 0; i < 4; i++)
        {
            if (raw[i] != expected[i])
                throw source.Damaged(objectPath, $"A block marked {expected} was expected, {Show(raw)} was found.");
        }
    }

    public void Version(byte lowest, byte highest, string what)
    {
        byte version = U8();
        if (version < lowest || version > highest)
        {
            throw source.Unsupported(
                objectPath,
                $"Version {version} of the {what} is not known (known: {lowest} to {highest}).",
                "rewrite the file with an HDF5 library of version 1.8 to 1.14 (h5repack), or copy it again if it is damaged."
            );
        }
    }

    /// <summary>Text up to a zero byte (consumed).</summary>
    public string ZeroTerminated()
    {
        int length = _block[_at..].IndexOf((byte)0);
        if (length < 0)
            throw source.Damaged(objectPath, "A name has no end.");
        string text = Encoding.UTF8.GetString(Take(length));
        Skip(1);
        return text;
    }

    private static string Show(ReadOnlySpan<byte> raw) => Convert.ToHexStringLower(raw);
}
