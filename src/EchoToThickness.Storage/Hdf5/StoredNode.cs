using System.Runtime.InteropServices;
using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>A group or dataset to be written: its attributes, and where its header will lie.</summary>
internal abstract class StoredNode
{
    internal readonly record struct Value(
        string Name,
        StoredType Type,
        long[] Dimensions,
        Func<ValueSink, byte[]> Encode
    );

    internal List<Value> Attributes { get; } = [];

    /// <summary>Address of the object header; known in the second pass.</summary>
    internal long Address { get; set; }

    public StoredNode Set(string name, double value) => Add(name, StoredType.Float64, [], BitConverter.GetBytes(value));

    public StoredNode Set(string name, int value) => Add(name, StoredType.Int32, [], BitConverter.GetBytes(value));

    public StoredNode Set(string name, long value) => Add(name, StoredType.Int64, [], BitConverter.GetBytes(value));

    public StoredNode Set(string name, ReadOnlySpan<long> values) =>
        Add(name, StoredType.Int64, [values.Length], MemoryMarshal.AsBytes(values).ToArray());

    /// <summary>A string of fixed length, inside the checksummed header.</summary>
    public StoredNode SetFixed(string name, string text)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text.Length == 0 ? "\0" : text);
        return Add(name, StoredType.FixedText(bytes.Length), [], bytes);
    }

    /// <summary>A string of variable length, which readers hand out as text; it may be longer than a header can hold.</summary>
    public StoredNode SetText(string name, string text)
    {
        Attributes.Add(new Value(name, StoredType.VariableText, [], sink => sink.Text(text)));
        return this;
    }

    /// <summary>Strings of variable length; none at all for an empty list.</summary>
    public StoredNode SetTexts(string name, IReadOnlyList<string> texts)
    {
        if (texts.Count == 0)
            return this;
        Attributes.Add(
            new Value(
                name,
                StoredType.VariableText,
                [texts.Count],
                sink =>
                {
                    ByteWriter writer = new();
                    foreach (string text in texts)
                        writer.Bytes(sink.Text(text));
                    return writer.Written.ToArray();
                }
            )
        );
        return this;
    }

    internal StoredNode Add(string name, StoredType type, long[] dimensions, byte[] raw)
    {
        Attributes.Add(new Value(name, type, dimensions, _ => raw));
        return this;
    }

    internal abstract void Messages(ByteWriter writer, ValueSink sink);
}
