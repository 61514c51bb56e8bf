using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Object headers of version 2 (section IV.A.1.b): one block, checksummed.</summary>
internal static class HeaderWriter
{
    public static byte[] Build(StoredNode node, ValueSink sink)
    {
        ByteWriter messages = new();
        node.Messages(messages, sink);
        foreach (StoredNode.Value value in node.Attributes)
            Attribute(messages, value.Name, value.Type, value.Dimensions, value.Encode(sink));
        ByteWriter header = new();
        header.Text("OHDR").U8(2).U8(2).U32(messages.Length).Bytes(messages.Written);
        return header.Checksum().Written.ToArray();
    }

    public static void Message(ByteWriter writer, int kind, ReadOnlySpan<byte> body, bool constant = false) =>
        writer.U8(kind).U16(body.Length).U8(constant ? 1 : 0).Bytes(body);

    public static void Attribute(
        ByteWriter writer,
        string name,
        StoredType type,
        long[] dimensions,
        ReadOnlySpan<byte> raw
    )
    {
        byte[] text = Encoding.UTF8.GetBytes(name + "\0");
        ByteWriter body = new();
        body.U8(3).U8(0).U16(text.Length).U16(type.Encoded.Length).U16(4 + 8 * dimensions.Length).U8(1);
        body.Bytes(text).Bytes(type.Encoded).U8(2).U8(dimensions.Length).U8(0).U8(dimensions.Length == 0 ? 0 : 1);
        foreach (long dimension in dimensions)
            body.I64(dimension);
        body.Bytes(raw);
        if (body.Length > ushort.MaxValue)
        {
            throw new ArgumentException(
                $"The attribute {name} needs {body.Length} bytes; an object header holds at most 65535.",
                nameof(raw)
            );
        }
        Message(writer, ObjectHeader.Attribute, body.Written);
    }
}
