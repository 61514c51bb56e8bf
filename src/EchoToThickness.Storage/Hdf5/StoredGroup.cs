using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>A group to be written, its members as link messages in its own header.</summary>
internal sealed class StoredGroup : StoredNode
{
    internal List<(string Name, StoredNode Node)> Members { get; } = [];

    public StoredGroup Group(string name)
    {
        StoredGroup group = new();
        Members.Add((name, group));
        return group;
    }

    internal override void Messages(ByteWriter writer, ValueSink sink)
    {
        HeaderWriter.Message(writer, 0x02, new ByteWriter().U8(0).U8(0).I64(-1).I64(-1).Written);
        HeaderWriter.Message(writer, 0x0a, new ByteWriter().U8(0).U8(0).Written);
        foreach ((string name, StoredNode node) in Members)
        {
            byte[] text = Encoding.UTF8.GetBytes(name);
            ByteWriter link = new ByteWriter().U8(1).U8(0x11).U8(1).U16(text.Length).Bytes(text).I64(node.Address);
            HeaderWriter.Message(writer, 0x06, link.Written);
        }
    }
}
