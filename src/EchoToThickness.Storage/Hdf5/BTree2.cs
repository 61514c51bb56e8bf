using System.Numerics;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Walks a version 2 B-tree (section III.A.2) in order and hands out its records.</summary>
internal sealed class BTree2
{
    private readonly Hdf5Source _source;
    private readonly string _objectPath;
    private readonly int _nodeSize;
    private readonly long _limit;
    private readonly int[] _countSize;
    private readonly int[] _totalSize;
    private readonly List<ReadOnlyMemory<byte>> _records = [];

    private BTree2(Hdf5Source source, long address, int type, long limit, string objectPath)
    {
        _source = source;
        _objectPath = objectPath;
        _limit = limit;
        int length = 22 + source.OffsetSize + source.LengthSize;
        byte[] header = source.Read(address, length, objectPath);
        Hdf5Cursor cursor = new(header, source, objectPath);
        cursor.Signature("BTHD");
        cursor.Version(0, 0, "B-tree");
        source.VerifyChecksum(header, objectPath, "B-tree header");
        int found = cursor.U8();
        if (found != type)
            throw source.Damaged(objectPath, $"A B-tree of type {type} was expected, {found} was found.");
        _nodeSize = (int)Math.Min(cursor.U32(), int.MaxValue);
        RecordSize = cursor.U16();
        int depth = cursor.U16();
        cursor.Skip(2);
        long root = cursor.Address();
        int rootCount = cursor.U16();
        if (depth > 16 || RecordSize == 0 || _nodeSize is < 16 or > 1 << 24)
            throw source.Damaged(objectPath, $"A B-tree of depth {depth} with nodes of {_nodeSize} bytes is absurd.");
        _countSize = new int[depth + 1];
        _totalSize = new int[depth + 1];
        SizeFields(depth);
        if (root >= 0 && rootCount > 0)
            Node(root, rootCount, depth);
    }

    public int RecordSize { get; }

    public static List<ReadOnlyMemory<byte>> Records(
        Hdf5Source source,
        long address,
        int type,
        long limit,
        string objectPath
    ) => new BTree2(source, address, type, limit, objectPath)._records;

    private void SizeFields(int depth)
    {
        // Widths follow from the greatest number of records a node, and a subtree, can hold.
        ulong most = (ulong)Math.Max((_nodeSize - 10) / RecordSize, 1);
        int countSize = Width(most);
        ulong below = most;
        for (int level = 1; level <= depth; level++)
        {
            _countSize[level] = countSize;
            _totalSize[level] = level == 1 ? 0 : Width(below);
            int pointer = _source.OffsetSize + countSize + _totalSize[level];
            ulong inner = (ulong)Math.Max((_nodeSize - 10 - pointer) / (RecordSize + pointer), 1);
            UInt128 total = (UInt128)(inner + 1) * below + inner;
            below = total > ulong.MaxValue ? ulong.MaxValue : (ulong)total;
        }
    }

    private static int Width(ulong limit) => BitOperations.Log2(limit) / 8 + 1;

    private void Node(long address, int count, int level)
    {
        byte[] block = _source.Read(address, _nodeSize, _objectPath);
        Hdf5Cursor cursor = new(block, _source, _objectPath);
        cursor.Signature(level == 0 ? "BTLF" : "BTIN");
        cursor.Version(0, 0, "B-tree node");
        cursor.Skip(1);
        int from = cursor.Position;
        cursor.Skip((long)count * RecordSize);
        int pointer = level == 0 ? 0 : _source.OffsetSize + _countSize[level] + _totalSize[level];
        int used = cursor.Position + (level == 0 ? 0 : (count + 1) * pointer) + 4;
        if (used > block.Length)
            throw _source.Damaged(_objectPath, $"A B-tree node declares {count} records, more than it can hold.");
        _source.VerifyChecksum(block.AsSpan(0, used), _objectPath, "B-tree node");
        for (int i = 0; i <= count; i++)
        {
            if (level > 0)
            {
                long child = cursor.DefinedAddress("B-tree node");
                int childCount = (int)cursor.Sized(_countSize[level]);
                cursor.Skip(_totalSize[level]);
                Node(child, childCount, level - 1);
            }
            if (i < count)
                Add(block.AsMemory(from + i * RecordSize, RecordSize));
        }
    }

    private void Add(ReadOnlyMemory<byte> record)
    {
        if (_records.Count >= _limit)
            throw _source.Damaged(_objectPath, $"A B-tree holds more than {_limit} records, the limit.");
        _records.Add(record);
    }
}
