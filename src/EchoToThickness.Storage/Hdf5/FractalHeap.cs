using System.Numerics;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Looks objects up in a fractal heap (section III.G), where links and attributes of crowded objects lie.</summary>
internal sealed class FractalHeap
{
    private readonly Hdf5Source _source;
    private readonly string _objectPath;
    private readonly bool _checked;
    private readonly int _width;
    private readonly long _startSize;
    private readonly long _maxDirect;
    private readonly int _heapBits;
    private readonly int _lengthSize;
    private readonly long _root;
    private readonly int _rootRows;
    private readonly Dictionary<long, byte[]> _blocks = [];

    public FractalHeap(Hdf5Source source, long address, string objectPath)
    {
        _source = source;
        _objectPath = objectPath;
        int size = 26 + 12 * source.LengthSize + 3 * source.OffsetSize;
        byte[] header = source.Read(address, size, objectPath);
        Hdf5Cursor cursor = new(header, source, objectPath);
        cursor.Signature("FRHP");
        cursor.Version(0, 0, "fractal heap");
        cursor.U16();
        if (cursor.U16() != 0)
        {
            throw source.Unsupported(
                objectPath,
                "A heap of links or attributes is compressed, which is not read.",
                "rewrite the file with h5repack."
            );
        }
        source.VerifyChecksum(header, objectPath, "fractal heap header");
        _checked = (cursor.U8() & 2) != 0;
        uint maxManaged = cursor.U32();
        cursor.Length();
        cursor.Address();
        cursor.Length();
        cursor.Address();
        cursor.Skip(8L * source.LengthSize);
        _width = cursor.U16();
        _startSize = cursor.Length();
        _maxDirect = cursor.Length();
        _heapBits = cursor.U16();
        cursor.Skip(2);
        _root = cursor.Address();
        _rootRows = cursor.U16();
        if (
            _width is < 1 or > 1024
            || _startSize is < 1 or > 1 << 26
            || _maxDirect is < 1 or > 1 << 26
            || _heapBits is < 1 or > 64
            || !BitOperations.IsPow2(_startSize)
            || !BitOperations.IsPow2(_maxDirect)
        )
        {
            throw source.Damaged(objectPath, "The dimensions of a heap of links or attributes are absurd.");
        }
        _lengthSize = (BitOperations.Log2((ulong)Math.Max(1, Math.Min(_maxDirect, maxManaged))) / 8) + 1;
    }

    /// <summary>Bytes of the object with the given heap identifier.</summary>
    public ReadOnlyMemory<byte> Get(ReadOnlySpan<byte> id)
    {
        Hdf5Cursor cursor = new(id, _source, _objectPath);
        byte flags = cursor.U8();
        int kind = flags >> 4 & 3;
        if (kind == 2)
            return id.Slice(1, Math.Min((flags & 0x0f) + 1, id.Length - 1)).ToArray();
        if (kind != 0)
        {
            throw _source.Unsupported(
                _objectPath,
                "An attribute or link is stored as a huge object, which is not read.",
                "store attributes above 64 kB as datasets."
            );
        }
        long offset = (long)cursor.Sized((_heapBits + 7) / 8);
        long length = (long)cursor.Sized(_lengthSize);
        if (_root < 0 || offset < 0)
            throw _source.Damaged(_objectPath, "A heap identifier refers to an empty heap.");
        (byte[] block, long within) = Find(offset);
        if (within < 0 || length > block.Length - within)
            throw _source.Damaged(_objectPath, "A heap identifier runs past its block.");
        return block.AsMemory((int)within, (int)length);
    }

    private (byte[] Block, long Within) Find(long offset)
    {
        if (_rootRows == 0)
            return (Direct(_root, _startSize), offset);
        long address = _root;
        int rows = _rootRows;
        for (int depth = 0; depth < 16; depth++)
        {
            // Row r of the doubling table holds blocks of size start, start, 2 start, 4 start, ...
            int row = 0;
            long rowStart = 0;
            long size = _startSize;
            while (row < rows && offset >= rowStart + size * _width)
            {
                rowStart += size * _width;
                row++;
                if (row > 1)
                    size *= 2;
                if (size > 1L << 50)
                    break;
            }
            if (row >= rows)
                throw _source.Damaged(_objectPath, "A heap identifier lies beyond its heap.");
            int column = (int)((offset - rowStart) / size);
            int directRows = BitOperations.Log2((ulong)_maxDirect) - BitOperations.Log2((ulong)_startSize) + 2;
            long child = Child(address, rows, directRows, row, column);
            offset = offset - rowStart - column * size;
            if (row < directRows)
                return (Direct(child, size), offset);
            address = child;
            rows = BitOperations.Log2((ulong)size) - BitOperations.Log2((ulong)(_startSize * _width)) + 1;
        }
        throw _source.Damaged(_objectPath, "A heap is nested too deep.");
    }

    private long Child(long address, int rows, int directRows, int row, int column)
    {
        int head = 5 + _source.OffsetSize + (_heapBits + 7) / 8;
        long count = (long)rows * _width;
        if (!_blocks.TryGetValue(address, out byte[]? block))
        {
            block = _source.Read(address, head + count * _source.OffsetSize + 4, _objectPath);
            _source.VerifyChecksum(block, _objectPath, "heap block");
            _blocks[address] = block;
        }
        Hdf5Cursor cursor = new(block, _source, _objectPath);
        cursor.Signature("FHIB");
        cursor.Skip(head - 4 + ((long)row * _width + column) * _source.OffsetSize);
        return cursor.DefinedAddress("heap block");
    }

    private byte[] Direct(long address, long size)
    {
        if (_blocks.TryGetValue(address, out byte[]? block))
            return block;
        block = _source.Read(address, size, _objectPath);
        Hdf5Cursor cursor = new(block, _source, _objectPath);
        cursor.Signature("FHDB");
        if (_checked)
            Verify(block);
        _blocks[address] = block;
        return block;
    }

    private void Verify(byte[] block)
    {
        // The checksum is computed with its own field zero.
        int at = 5 + _source.OffsetSize + (_heapBits + 7) / 8;
        if (at + 4 > block.Length)
            throw _source.Damaged(_objectPath, "A heap block is too short.");
        byte[] copy = (byte[])block.Clone();
        uint stored = System.Buffers.Binary.BinaryPrimitives.ReadUInt32LittleEndian(copy.AsSpan(at));
        copy.AsSpan(at, 4).Clear();
        if (Hdf5Checksums.Lookup3(copy) != stored)
            throw _source.Damaged(_objectPath, "The checksum of a heap block does not fit.");
    }
}
