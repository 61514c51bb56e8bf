using System.Buffers.Binary;
using System.IO.Compression;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Undoes the filters of a chunk. Owns its scratch; one a thread.</summary>
internal sealed class ChunkDecoder(Hdf5Dataset dataset)
{
    private readonly FilterEntry[] _filters = dataset.FilterEntries;
    private readonly ResettableStream _packed = new();
    private byte[] _stored = [];
    private byte[] _first = [];
    private byte[] _second = [];

    /// <summary>Reads and decodes a chunk that was written.</summary>
    /// <param name="chunk">Index in the table.</param>
    /// <param name="isEdge">The chunk runs past the extent.</param>
    /// <param name="plain">Exactly one chunk.</param>
    public void Decode(long chunk, bool isEdge, Span<byte> plain)
    {
        Hdf5Source source = dataset.Source;
        ChunkTable table = dataset.Chunks!;
        int length = table.StoredBytes[chunk];
        long offset = table.Addresses[chunk] + source.BaseAddress;
        bool filtered = _filters.Length > 0 && !(isEdge && dataset.Layout.EdgesUnfiltered);
        if (!filtered)
        {
            if (length < plain.Length)
                throw Wrong(chunk, $"{length} bytes are stored, {plain.Length} are needed");
            source.ReadExactly(offset, plain, dataset.Path);
            return;
        }
        if (_stored.Length < length)
            _stored = new byte[Math.Max(length, Math.Min(plain.Length, 1 << 20))];
        source.ReadExactly(offset, _stored.AsSpan(0, length), dataset.Path);
        Undo(chunk, table.MaskOf(chunk), length, plain);
    }

    private void Undo(long chunk, uint mask, int length, Span<byte> plain)
    {
        // The bytes move from buffer to buffer; the last step writes straight into the destination.
        byte[] at = _stored;
        bool placed = false;
        int last = FirstActive(mask);
        for (int i = _filters.Length - 1; i >= 0; i--)
        {
            if (i < 32 && (mask >> i & 1) != 0)
                continue;
            int id = _filters[i].Id;
            if (id == FilterMessage.Fletcher32)
            {
                length = Verify(chunk, at.AsSpan(0, length));
                continue;
            }
            int expected = plain.Length + TrailersBefore(i, mask);
            Span<byte> to = default;
            if (i == last && expected == plain.Length)
            {
                to = plain;
                placed = true;
            }
            else
            {
                ref byte[] scratch = ref ReferenceEquals(at, _first) ? ref _second : ref _first;
                if (scratch.Length < expected)
                    scratch = new byte[expected];
                to = scratch.AsSpan(0, expected);
            }
            switch (id)
            {
                case FilterMessage.Deflate:
                    Inflate(chunk, at, length, to);
                    break;
                case FilterMessage.Shuffle:
                    if (length != expected)
                        throw Wrong(chunk, $"{length} bytes were unpacked, {expected} are needed");
                    ByteShuffle.Undo(at.AsSpan(0, length), to, ShuffleSize(_filters[i]));
                    break;
                default:
                    if (!Lzf.TryUnpack(at.AsSpan(0, length), to))
                        throw Wrong(chunk, $"LZF data do not unpack to {expected} bytes");
                    break;
            }
            if (!placed)
                at = ReferenceEquals(at, _first) ? _second : _first;
            length = expected;
        }
        if (placed)
            return;
        if (length != plain.Length)
            throw Wrong(chunk, $"{length} bytes were unpacked, {plain.Length} are needed");
        at.AsSpan(0, length).CopyTo(plain);
    }

    /// <summary>The filter that is undone last among those that move bytes; a checksum before it is checked from scratch.</summary>
    private int FirstActive(uint mask)
    {
        for (int i = 0; i < _filters.Length; i++)
        {
            if (i >= 32 || (mask >> i & 1) == 0)
                return i;
        }
        return -1;
    }

    /// <summary>Checksums of four bytes that filters before number <paramref name="filter"/> had appended.</summary>
    private int TrailersBefore(int filter, uint mask)
    {
        int bytes = 0;
        for (int i = 0; i < filter; i++)
        {
            if (_filters[i].Id == FilterMessage.Fletcher32 && (mask >> i & 1) == 0)
                bytes += 4;
        }
        return bytes;
    }

    private int ShuffleSize(FilterEntry filter)
    {
        int size = filter.Values.Length > 0 ? (int)Math.Min(filter.Values[0], 1 << 20) : dataset.Type.SizeBytes;
        return size > 0
            ? size
            : throw dataset.Source.Damaged(dataset.Path, "The shuffle filter has an element size of 0.");
    }

    private int Verify(long chunk, ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 4)
            throw Wrong(chunk, "it is shorter than its checksum");
        uint stored = BinaryPrimitives.ReadUInt32LittleEndian(bytes[^4..]);
        uint computed = Hdf5Checksums.Fletcher32(bytes[..^4]);
        // HDF5 before 1.6.3 stored the halves with their bytes swapped; the library still accepts that, and so does this.
        uint swapped = (computed & 0x00ff00ff) << 8 | (computed & 0xff00ff00) >> 8;
        if (stored != computed && stored != swapped)
            throw Wrong(chunk, $"its Fletcher-32 checksum is {computed:x8}, stored is {stored:x8}");
        return bytes.Length - 4;
    }

    private void Inflate(long chunk, byte[] from, int length, Span<byte> to)
    {
        try
        {
            _packed.Reset(from, length);
            using ZLibStream inflater = new(_packed, CompressionMode.Decompress, leaveOpen: true);
            int done = inflater.ReadAtLeast(to, to.Length, throwOnEndOfStream: false);
            if (done < to.Length)
                throw Wrong(chunk, $"{done} bytes were unpacked, {to.Length} are needed");
            Span<byte> more = stackalloc byte[1];
            if (inflater.Read(more) != 0)
                throw Wrong(chunk, $"more than {to.Length} bytes were unpacked");
        }
        catch (Exception e) when (e is InvalidDataException or IOException)
        {
            throw Wrong(chunk, "its deflate data are damaged", e);
        }
    }

    private StackFormatException Wrong(long chunk, string what, Exception? inner = null) =>
        new(
            $"Chunk {chunk} cannot be read: {what}.",
            dataset.Source.Path,
            dataset.Path,
            "copy the file again from its source and compare SHA-256, or export it anew.",
            inner
        );

    private sealed class ResettableStream : Stream
    {
        private byte[] _bytes = [];
        private int _length;
        private int _at;

        public override bool CanRead => true;
        public override bool CanSeek => false;
        public override bool CanWrite => false;
        public override long Length => _length;

        public override long Position
        {
            get => _at;
            set => throw new NotSupportedException();
        }

        public void Reset(byte[] bytes, int length)
        {
            _bytes = bytes;
            _length = length;
            _at = 0;
        }

        public override int Read(Span<byte> buffer)
        {
            int count = Math.Min(buffer.Length, _length - _at);
            _bytes.AsSpan(_at, count).CopyTo(buffer);
            _at += count;
            return count;
        }

        public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

        public override void Flush() { }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
