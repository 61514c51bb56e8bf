using System.Text;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>An attribute; its value is converted when asked for, and refused by name when it is of another kind.</summary>
public sealed class Hdf5Attribute
{
    private readonly Hdf5Source _source;
    private readonly ReadOnlyMemory<byte> _raw;

    private Hdf5Attribute(
        Hdf5Source source,
        string objectPath,
        string name,
        Hdf5Type type,
        DataspaceMessage space,
        ReadOnlyMemory<byte> raw
    )
    {
        _source = source;
        _raw = raw;
        ObjectPath = objectPath;
        Name = name;
        Type = type;
        Dimensions = space.Dimensions;
        Count = space.Count(source, Where);
    }

    /// <summary>Object that carries the attribute.</summary>
    public string ObjectPath { get; }

    /// <summary>Name.</summary>
    public string Name { get; }

    /// <summary>Stored type.</summary>
    public Hdf5Type Type { get; }

    /// <summary>Extent; empty for a scalar.</summary>
    public IReadOnlyList<long> Dimensions { get; }

    /// <summary>Elements.</summary>
    public long Count { get; }

    private string Where => $"{ObjectPath}, attribute {Name}";

    /// <summary>Whether <see cref="ToDouble"/> can answer.</summary>
    public bool IsNumber => Count == 1 && Hdf5Values.IsNumeric(Type);

    /// <summary>Whether <see cref="ToText"/> can answer.</summary>
    public bool IsText => Count == 1 && Hdf5Values.IsText(Type);

    /// <summary>The one number, converted from any integer or float of either byte order.</summary>
    /// <exception cref="StackFormatException">Not one number.</exception>
    public double ToDouble() => ToDoubles() is [double value] ? value : throw Wrong("one number");

    /// <summary>The one integer.</summary>
    /// <exception cref="StackFormatException">Not one integer.</exception>
    public long ToInt64()
    {
        if (Count == 1 && Type.IsStandard && Type.Class is (Hdf5TypeClass.Integer or Hdf5TypeClass.Enumeration))
            return Hdf5Numbers.ToInt64(Raw(), Type);
        double value = ToDouble();
        return value == Math.Floor(value) && Math.Abs(value) < 1e15 ? (long)value : throw Wrong("one whole number");
    }

    /// <summary>All numbers in stored order.</summary>
    /// <exception cref="StackFormatException">Not numbers.</exception>
    public double[] ToDoubles() =>
        Hdf5Values.IsNumeric(Type) ? Hdf5Values.Doubles(Raw(), Type, Count) : throw Wrong("numbers");

    /// <summary>The one string, fixed or variable length, UTF-8.</summary>
    /// <exception cref="StackFormatException">Not one string.</exception>
    public string ToText() => ToTexts() is [string value] ? value : throw Wrong("one string");

    /// <summary>All strings in stored order.</summary>
    /// <exception cref="StackFormatException">Not strings.</exception>
    public string[] ToTexts() =>
        Hdf5Values.IsText(Type) ? Hdf5Values.Texts(Raw(), Type, Count, _source, Where) : throw Wrong("strings");

    internal static List<Hdf5Attribute> ReadAll(Hdf5Source source, ObjectHeader header, string objectPath)
    {
        List<Hdf5Attribute> attributes = [];
        foreach (HeaderMessage message in header.Messages)
        {
            if (message.Kind == ObjectHeader.Attribute)
                attributes.Add(Read(ObjectHeader.Resolve(source, message, objectPath), source, objectPath));
            else if (message.Kind == ObjectHeader.AttributeInfo)
                ReadDense(message.Body.Span, attributes, source, objectPath);
        }
        attributes.Sort((a, b) => string.CompareOrdinal(a.Name, b.Name));
        for (int i = 1; i < attributes.Count; i++)
        {
            if (attributes[i].Name == attributes[i - 1].Name)
                throw source.Damaged(objectPath, $"The attribute '{attributes[i].Name}' occurs twice.");
        }
        return attributes;
    }

    private static void ReadDense(
        ReadOnlySpan<byte> body,
        List<Hdf5Attribute> attributes,
        Hdf5Source source,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        cursor.Version(0, 0, "attribute info");
        byte flags = cursor.U8();
        if ((flags & 1) != 0)
            cursor.Skip(2);
        long heapAddress = cursor.Address();
        long names = cursor.Address();
        if (heapAddress < 0 || names < 0)
            return;
        FractalHeap heap = new(source, heapAddress, objectPath);
        foreach (ReadOnlyMemory<byte> record in BTree2.Records(source, names, 8, source.Limits.Objects, objectPath))
        {
            if (record.Length < 17)
                throw source.Damaged(objectPath, "A record of the attribute index is too short.");
            HeaderMessage message = new(ObjectHeader.Attribute, (record.Span[8] & 2) != 0, heap.Get(record.Span[..8]));
            attributes.Add(Read(ObjectHeader.Resolve(source, message, objectPath), source, objectPath));
        }
    }

    private static Hdf5Attribute Read(ReadOnlyMemory<byte> body, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body.Span, source, objectPath);
        byte version = cursor.U8();
        if (version is < 1 or > 3)
            throw source.Damaged(objectPath, $"An attribute has version {version} (known: 1 to 3).");
        byte flags = cursor.U8();
        int nameBytes = cursor.U16();
        int typeBytes = cursor.U16();
        int spaceBytes = cursor.U16();
        if (version == 3)
            cursor.Skip(1);
        int align = version == 1 ? 8 : 1;
        ReadOnlySpan<byte> rawName = cursor.Take(Padded(nameBytes, align));
        int end = rawName.IndexOf((byte)0);
        string name = Encoding.UTF8.GetString(end < 0 ? rawName : rawName[..end]);
        string where = $"{objectPath}, attribute {name}";
        int typeAt = cursor.Position;
        cursor.Skip(Padded(typeBytes, align));
        ReadOnlyMemory<byte> typeBody = body.Slice(typeAt, typeBytes);
        if (version > 1 && (flags & 1) != 0)
            typeBody = ObjectHeader.Resolve(source, new HeaderMessage(ObjectHeader.Datatype, true, typeBody), where);
        ReadOnlySpan<byte> space = cursor.Take(Padded(spaceBytes, align));
        if (version > 1 && (flags & 2) != 0)
            throw source.Unsupported(
                where,
                "The extent of the attribute is stored elsewhere.",
                "rewrite the file with h5repack."
            );
        return new Hdf5Attribute(
            source,
            objectPath,
            name,
            DatatypeMessage.Read(typeBody.Span, source, where),
            DataspaceMessage.Read(space, source, where),
            body[cursor.Position..]
        );
    }

    private static int Padded(int bytes, int align) => (bytes + align - 1) / align * align;

    private ReadOnlySpan<byte> Raw()
    {
        Int128 bytes = (Int128)Count * Type.SizeBytes;
        if (bytes > _raw.Length)
            throw _source.Damaged(Where, $"The value needs {bytes} bytes, {_raw.Length} are stored.");
        return _raw.Span[..(int)bytes];
    }

    private StackFormatException Wrong(string expected) =>
        new(
            $"{char.ToUpperInvariant(expected[0])}{expected[1..]} was expected; stored: {Count} of {Type.Describe()}.",
            _source.Path,
            Where,
            $"write the attribute as {expected}."
        );
}
