using System.Buffers.Binary;
using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Little-endian fields into a growing buffer.</summary>
internal sealed class ByteWriter
{
    private byte[] _bytes = new byte[256];

    public int Length { get; private set; }

    public ReadOnlySpan<byte> Written => _bytes.AsSpan(0, Length);

    public Span<byte> Take(int count)
    {
        if (_bytes.Length - Length < count)
            Array.Resize(ref _bytes, Math.Max(_bytes.Length * 2, Length + count));
        Span<byte> taken = _bytes.AsSpan(Length, count);
        taken.Clear();
        Length += count;
        return taken;
    }

    public ByteWriter U8(int value)
    {
        Take(1)[0] = checked((byte)value);
        return this;
    }

    public ByteWriter U16(int value)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(Take(2), checked((ushort)value));
        return this;
    }

    public ByteWriter U32(long value)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(Take(4), checked((uint)value));
        return this;
    }

    /// <summary>Eight bytes; -1 is the undefined address.</summary>
    public ByteWriter I64(long value)
    {
        BinaryPrimitives.WriteInt64LittleEndian(Take(8), value);
        return this;
    }

    public ByteWriter Sized(long value, int bytes)
    {
        Span<byte> to = Take(bytes);
        for (int i = 0; i < bytes; i++)
            to[i] = (byte)(value >> (8 * i));
        return this;
    }

    public ByteWriter Bytes(ReadOnlySpan<byte> bytes)
    {
        bytes.CopyTo(Take(bytes.Length));
        return this;
    }

    public ByteWriter Text(string text) => Bytes(Encoding.UTF8.GetBytes(text));

    /// <summary>Appends lookup3 of everything from a position on.</summary>
    public ByteWriter Checksum(int from = 0) => U32(Hdf5Checksums.Lookup3(Written[from..]));
}
