using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>One member of a group. Exactly one of the targets is set.</summary>
/// <param name="Name">Name within the group.</param>
/// <param name="Address">Hard link: address of the object header; else -1.</param>
/// <param name="SoftTarget">Soft link: path; else null.</param>
/// <param name="IsExternal">Link into another file (or of a user's own kind).</param>
internal sealed record GroupLink(string Name, long Address, string? SoftTarget, bool IsExternal);

/// <summary>Lists the members of a group in all three storage forms: symbol table, link messages, heap.</summary>
internal static class GroupLinks
{
    public static bool IsGroup(ObjectHeader header) =>
        header.Has(ObjectHeader.SymbolTable) || header.Has(ObjectHeader.LinkInfo) || header.Has(ObjectHeader.Link);

    public static List<GroupLink> Read(Hdf5Source source, ObjectHeader header, string objectPath)
    {
        List<GroupLink> links = [];
        foreach (HeaderMessage message in header.Messages)
        {
            switch (message.Kind)
            {
                case ObjectHeader.Link:
                    links.Add(ReadLink(message.Body.Span, source, objectPath));
                    break;
                case ObjectHeader.LinkInfo:
                    ReadDense(message.Body.Span, links, source, objectPath);
                    break;
                case ObjectHeader.SymbolTable:
                    ReadSymbols(message.Body.Span, links, source, objectPath);
                    break;
            }
        }
        links.Sort((a, b) => string.CompareOrdinal(a.Name, b.Name));
        for (int i = 1; i < links.Count; i++)
        {
            if (links[i].Name == links[i - 1].Name)
                throw source.Damaged(objectPath, $"The name '{links[i].Name}' occurs twice in the group.");
        }
        return links;
    }

    private static GroupLink ReadLink(ReadOnlySpan<byte> body, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        cursor.Version(1, 1, "link message");
        byte flags = cursor.U8();
        int type = (flags & 8) != 0 ? cursor.U8() : 0;
        if ((flags & 4) != 0)
            cursor.Skip(8);
        if ((flags & 0x10) != 0)
            cursor.Skip(1);
        long length = (long)cursor.Sized(1 << (flags & 3));
        string name = Encoding.UTF8.GetString(cursor.Take(length));
        return type switch
        {
            0 => new GroupLink(name, cursor.DefinedAddress("linked object"), null, false),
            1 => new GroupLink(name, -1, Encoding.UTF8.GetString(cursor.Take(cursor.U16())), false),
            _ => new GroupLink(name, -1, null, true),
        };
    }

    private static void ReadDense(ReadOnlySpan<byte> body, List<GroupLink> links, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        cursor.Version(0, 0, "link info");
        byte flags = cursor.U8();
        if ((flags & 1) != 0)
            cursor.Skip(8);
        long heapAddress = cursor.Address();
        long names = cursor.Address();
        if (heapAddress < 0 || names < 0)
            return;
        FractalHeap heap = new(source, heapAddress, objectPath);
        foreach (ReadOnlyMemory<byte> record in BTree2.Records(source, names, 5, source.Limits.Objects, objectPath))
        {
            if (record.Length < 11)
                throw source.Damaged(objectPath, "A record of the link index is too short.");
            links.Add(ReadLink(heap.Get(record.Span[4..]).Span, source, objectPath));
        }
    }

    private static void ReadSymbols(
        ReadOnlySpan<byte> body,
        List<GroupLink> links,
        Hdf5Source source,
        string objectPath
    )
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        long tree = cursor.DefinedAddress("group index");
        long heapAddress = cursor.DefinedAddress("group heap");
        byte[] head = source.Read(heapAddress, 8 + 2 * source.LengthSize + source.OffsetSize, objectPath);
        Hdf5Cursor heap = new(head, source, objectPath);
        heap.Signature("HEAP");
        heap.Version(0, 0, "group heap");
        heap.Skip(3);
        long size = heap.Length();
        heap.Skip(source.LengthSize);
        byte[] names = source.Read(heap.DefinedAddress("group heap data"), size, objectPath);
        SymbolNode(tree, names, links, source, objectPath, 0);
    }

    private static void SymbolNode(
        long address,
        byte[] names,
        List<GroupLink> links,
        Hdf5Source source,
        string objectPath,
        int depth
    )
    {
        int headBytes = 8 + 2 * source.OffsetSize;
        byte[] head = source.Read(address, headBytes, objectPath);
        Hdf5Cursor cursor = new(head, source, objectPath);
        cursor.Signature("TREE");
        byte type = cursor.U8();
        int level = cursor.U8();
        int count = cursor.U16();
        if (type != 0 || depth > 16 || level > 16 - depth)
            throw source.Damaged(objectPath, "The index of the group is damaged.");
        int stride = source.LengthSize + source.OffsetSize;
        byte[] entries = source.Read(address + headBytes, (long)count * stride, objectPath);
        for (int i = 0; i < count; i++)
        {
            Hdf5Cursor at = new(entries.AsSpan(i * stride, stride), source, objectPath);
            at.Skip(source.LengthSize);
            long child = at.DefinedAddress("group index node");
            if (level > 0)
                SymbolNode(child, names, links, source, objectPath, depth + 1);
            else
                Symbols(child, names, links, source, objectPath);
        }
    }

    private static void Symbols(long address, byte[] names, List<GroupLink> links, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor head = new(source.Read(address, 8, objectPath), source, objectPath);
        head.Signature("SNOD");
        head.Version(1, 1, "symbol table node");
        head.Skip(1);
        int count = head.U16();
        int stride = 2 * source.OffsetSize + 24;
        byte[] block = source.Read(address + 8, (long)count * stride, objectPath);
        for (int i = 0; i < count; i++)
        {
            Hdf5Cursor cursor = new(block.AsSpan(i * stride, stride), source, objectPath);
            string name = Text(names, (long)cursor.Sized(source.OffsetSize), source, objectPath);
            long target = cursor.Address();
            uint cache = cursor.U32();
            cursor.Skip(4);
            if (cache == 2)
                links.Add(new GroupLink(name, -1, Text(names, cursor.U32(), source, objectPath), false));
            else if (target >= 0)
                links.Add(new GroupLink(name, target, null, false));
            else
                throw source.Damaged(objectPath, $"The member '{name}' of the group has no address.");
            if (links.Count > source.Limits.Objects)
                throw source.Damaged(
                    objectPath,
                    $"The group has more than {source.Limits.Objects} members, the limit."
                );
        }
    }

    private static string Text(byte[] heap, long offset, Hdf5Source source, string objectPath)
    {
        if (offset < 0 || offset >= heap.Length)
            throw source.Damaged(objectPath, "A name lies outside the heap of its group.");
        Hdf5Cursor cursor = new(heap.AsSpan((int)offset), source, objectPath);
        return cursor.ZeroTerminated();
    }
}
