using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>A datatype as it is written (section IV.A.2.d, little-endian throughout).</summary>
/// <param name="SizeBytes">Bytes of one element.</param>
/// <param name="Encoded">The datatype message.</param>
internal sealed record StoredType(int SizeBytes, byte[] Encoded)
{
    public static StoredType UInt8 { get; } = Integer(1, false);

    public static StoredType UInt16 { get; } = Integer(2, false);

    public static StoredType UInt32 { get; } = Integer(4, false);

    public static StoredType Int32 { get; } = Integer(4, true);

    public static StoredType Int64 { get; } = Integer(8, true);

    public static StoredType Float32 { get; } = Float(4);

    public static StoredType Float64 { get; } = Float(8);

    /// <summary>Reference to an object: its header's address.</summary>
    public static StoredType ObjectReference { get; } = new(8, Head(7, 1, 0, 8).Written.ToArray());

    /// <summary>Sequence of object references, as the dimension scales of a dataset are listed.</summary>
    public static StoredType ReferenceSequence { get; } =
        new(16, Head(9, 1, 0, 16).Bytes(ObjectReference.Encoded).Written.ToArray());

    /// <summary>String of variable length: zero-terminated, UTF-8.</summary>
    public static StoredType VariableText { get; } =
        new(16, Head(9, 1, 1 | 1 << 8, 16).Bytes(Integer(1, false).Encoded).Written.ToArray());

    /// <summary>Pair of dataset and axis, as a dimension scale lists its users.</summary>
    public static StoredType ScaleUser { get; } =
        new(
            12,
            Head(6, 3, 2, 12)
                .Text("dataset\0")
                .U8(0)
                .Bytes(ObjectReference.Encoded)
                .Text("dimension\0")
                .U8(8)
                .Bytes(Integer(4, false).Encoded)
                .Written.ToArray()
        );

    public static StoredType Of(SampleType type) =>
        type switch
        {
            SampleType.Int8 => Integer(1, true),
            SampleType.UInt8 => UInt8,
            SampleType.Int16 => Integer(2, true),
            SampleType.UInt16 => UInt16,
            SampleType.Float32 => Float32,
            SampleType.Float64 => Float64,
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "Unknown sample type."),
        };

    /// <summary>String of fixed length: padded with zeros, UTF-8.</summary>
    public static StoredType FixedText(int bytes) => new(bytes, Head(3, 1, 1 | 1 << 4, bytes).Written.ToArray());

    /// <summary>String of fixed length: zero-terminated, ASCII, as the dimension scale specification asks for.</summary>
    public static StoredType TerminatedText(int bytes) => new(bytes, Head(3, 1, 0, bytes).Written.ToArray());

    /// <summary>Enumeration over unsigned bytes.</summary>
    public static StoredType Enumeration(IReadOnlyList<(string Name, byte Value)> members)
    {
        ByteWriter writer = Head(8, 3, members.Count, 1).Bytes(UInt8.Encoded);
        foreach ((string name, _) in members)
            writer.Text(name + "\0");
        foreach ((_, byte value) in members)
            writer.U8(value);
        return new StoredType(1, writer.Written.ToArray());
    }

    private static StoredType Integer(int bytes, bool signed) =>
        new(bytes, Head(0, 1, signed ? 8 : 0, bytes).U16(0).U16(8 * bytes).Written.ToArray());

    private static StoredType Float(int bytes)
    {
        bool single = bytes == 4;
        ByteWriter writer = Head(1, 1, 0x20 | (single ? 31 : 63) << 8, bytes);
        writer.U16(0).U16(8 * bytes).U8(single ? 23 : 52).U8(single ? 8 : 11).U8(0).U8(single ? 23 : 52);
        return new StoredType(bytes, writer.U32(single ? 127 : 1023).Written.ToArray());
    }

    private static ByteWriter Head(int typeClass, int version, int bits, int size) =>
        new ByteWriter().U8(version << 4 | typeClass).Sized(bits, 3).U32(size);
}
