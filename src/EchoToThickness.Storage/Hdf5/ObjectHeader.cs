namespace EchoToThickness.Storage.Hdf5;

/// <summary>One message of an object header.</summary>
/// <param name="Kind">Message number (file format specification, section IV.A.2).</param>
/// <param name="IsShared">The body is a reference to a message stored elsewhere.</param>
/// <param name="Body">The bytes.</param>
internal readonly record struct HeaderMessage(int Kind, bool IsShared, ReadOnlyMemory<byte> Body);

/// <summary>The messages of one object, version 1 or 2 (section IV.A.1), continuation blocks followed.</summary>
internal sealed class ObjectHeader
{
    public const int Dataspace = 0x01;
    public const int LinkInfo = 0x02;
    public const int Datatype = 0x03;
    public const int FillOld = 0x04;
    public const int Fill = 0x05;
    public const int Link = 0x06;
    public const int ExternalFiles = 0x07;
    public const int Layout = 0x08;
    public const int Filters = 0x0b;
    public const int Attribute = 0x0c;
    public const int Continuation = 0x10;
    public const int SymbolTable = 0x11;
    public const int AttributeInfo = 0x15;

    private const int LargestBlocks = 4096;

    private ObjectHeader(long address, List<HeaderMessage> messages)
    {
        Address = address;
        Messages = messages;
    }

    public long Address { get; }

    public List<HeaderMessage> Messages { get; }

    public bool Has(int kind) => Messages.Exists(m => m.Kind == kind);

    /// <summary>Finds a message that at most one of can be there.</summary>
    public bool TryGet(int kind, out HeaderMessage message)
    {
        foreach (HeaderMessage candidate in Messages)
        {
            if (candidate.Kind == kind)
            {
                message = candidate;
                return true;
            }
        }
        message = default;
        return false;
    }

    public static ObjectHeader Read(Hdf5Source source, long address, string objectPath)
    {
        long available = source.Length - source.BaseAddress - address;
        byte[] start = source.Read(address, Math.Min(available, 512), objectPath);
        List<HeaderMessage> messages = [];
        if (start.AsSpan().StartsWith("OHDR"u8))
            ReadVersion2(source, address, start, messages, objectPath);
        else
            ReadVersion1(source, address, start, messages, objectPath);
        return new ObjectHeader(address, messages);
    }

    private static void ReadVersion1(
        Hdf5Source source,
        long address,
        byte[] start,
        List<HeaderMessage> messages,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(start, source, objectPath);
        cursor.Version(1, 1, "object header");
        cursor.Skip(1);
        cursor.U16();
        cursor.U32();
        uint size = cursor.U32();
        byte[] body = Body(source, address, start, 16, size, objectPath);
        Queue<(long Address, long Length)> blocks = new();
        Messages1(body, messages, blocks, source, objectPath);
        int seen = 0;
        while (blocks.TryDequeue(out (long Address, long Length) block))
        {
            CheckBlocks(source, ++seen, objectPath);
            Messages1(source.Read(block.Address, block.Length, objectPath), messages, blocks, source, objectPath);
        }
    }

    private static void Messages1(
        byte[] block,
        List<HeaderMessage> messages,
        Queue<(long, long)> blocks,
        Hdf5Source source,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(block, source, objectPath);
        while (cursor.Remaining >= 8)
        {
            int kind = cursor.U16();
            int size = cursor.U16();
            byte flags = cursor.U8();
            cursor.Skip(3);
            Add(kind, flags, block, cursor.Position, size, messages, blocks, source, objectPath);
            cursor.Skip(size);
        }
    }

    private static void ReadVersion2(
        Hdf5Source source,
        long address,
        byte[] start,
        List<HeaderMessage> messages,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(start, source, objectPath);
        cursor.Signature("OHDR");
        cursor.Version(2, 2, "object header");
        byte flags = cursor.U8();
        if ((flags & 0x20) != 0)
            cursor.Skip(16);
        if ((flags & 0x10) != 0)
            cursor.Skip(4);
        long size = (long)cursor.Sized(1 << (flags & 3));
        int prefix = cursor.Position;
        if (size < 0 || size > source.Length)
            throw source.Damaged(
                objectPath,
                $"An object header of {size} bytes is declared in a file of {source.Length}."
            );
        byte[] whole = Body(source, address, start, 0, prefix + size + 4, objectPath);
        source.VerifyChecksum(whole, objectPath, "object header");
        bool ordered = (flags & 4) != 0;
        Queue<(long Address, long Length)> blocks = new();
        Messages2(whole, prefix, ordered, messages, blocks, source, objectPath);
        int seen = 0;
        while (blocks.TryDequeue(out (long Address, long Length) block))
        {
            CheckBlocks(source, ++seen, objectPath);
            byte[] more = source.Read(block.Address, block.Length, objectPath);
            Hdf5Cursor mark = new(more, source, objectPath);
            mark.Signature("OCHK");
            if (more.Length < 8)
                throw source.Damaged(objectPath, "A continuation block is too short.");
            source.VerifyChecksum(more, objectPath, "object header continuation");
            Messages2(more, 4, ordered, messages, blocks, source, objectPath);
        }
    }

    private static void Messages2(
        byte[] block,
        int from,
        bool ordered,
        List<HeaderMessage> messages,
        Queue<(long, long)> blocks,
        Hdf5Source source,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(block.AsSpan(0, block.Length - 4), source, objectPath);
        cursor.Skip(from);
        int head = ordered ? 6 : 4;
        while (cursor.Remaining >= head)
        {
            int kind = cursor.U8();
            int size = cursor.U16();
            byte flags = cursor.U8();
            if (ordered)
                cursor.Skip(2);
            Add(kind, flags, block, cursor.Position, size, messages, blocks, source, objectPath);
            cursor.Skip(size);
        }
    }

    private static void Add(
        int kind,
        byte flags,
        byte[] block,
        int at,
        int size,
        List<HeaderMessage> messages,
        Queue<(long, long)> blocks,
        Hdf5Source source,
        string objectPath
    )
    {
        if (size > block.Length - at)
            throw source.Damaged(objectPath, $"A header message of {size} bytes runs past its block.");
        if (kind == Continuation)
        {
            Hdf5Cursor cursor = new(block.AsSpan(at, size), source, objectPath);
            blocks.Enqueue((cursor.DefinedAddress("continuation block"), cursor.Length()));
        }
        else if (kind != 0)
        {
            messages.Add(new HeaderMessage(kind, (flags & 2) != 0, block.AsMemory(at, size)));
        }
    }

    private static byte[] Body(Hdf5Source source, long address, byte[] start, int from, long size, string objectPath) =>
        from + size <= start.Length
            ? start.AsSpan(from, (int)size).ToArray()
            : source.Read(address + from, size, objectPath);

    private static void CheckBlocks(Hdf5Source source, int seen, string objectPath)
    {
        if (seen > LargestBlocks)
            throw source.Damaged(objectPath, $"The object header has more than {LargestBlocks} continuation blocks.");
    }

    /// <summary>The body of a message, followed to where it is stored when it is shared (section IV.A.2, shared message).</summary>
    public static ReadOnlyMemory<byte> Resolve(Hdf5Source source, HeaderMessage message, string objectPath)
    {
        if (!message.IsShared)
            return message.Body;
        Hdf5Cursor cursor = new(message.Body.Span, source, objectPath);
        byte version = cursor.U8();
        byte type = cursor.U8();
        if (version == 1)
            cursor.Skip(6);
        if (version is < 1 or > 3 || version == 3 && type != 2)
        {
            throw source.Unsupported(
                objectPath,
                "A header message lies in the shared message table of the file, which is not read.",
                "rewrite the file with h5repack."
            );
        }
        long address = cursor.DefinedAddress("committed datatype");
        ObjectHeader target = Read(source, address, objectPath);
        return target.TryGet(message.Kind, out HeaderMessage found) && !found.IsShared
            ? found.Body
            : throw source.Damaged(objectPath, "A shared header message refers to an object that does not hold it.");
    }
}
