using System.Runtime.InteropServices;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>
/// Reads slabs of a dataset into the caller's buffer, converted to the byte order of the machine, the type otherwise as stored.
/// One a thread. Contiguous data: one system call a run, no allocation. Chunks: each is decoded once per pass that
/// asks in steps of whole chunks; the last ones stay decoded for smaller steps.
/// </summary>
public sealed class Hdf5Reader : IDisposable
{
    private const long CacheBytes = 8 << 20;

    private readonly Hdf5Dataset _dataset;
    private readonly int _elementBytes;
    private readonly long[] _dimensions;
    private readonly LibraryReader? _library;
    private readonly ChunkDecoder? _decoder;
    private readonly long[] _first;
    private readonly long[] _last;
    private readonly long[] _cell;
    private readonly long[] _low;
    private readonly long[] _extent;
    private readonly byte[]?[] _slots = [];
    private readonly long[] _slotChunk = [];
    private readonly long[] _slotUse = [];
    private long _clock;

    internal Hdf5Reader(Hdf5Dataset dataset, bool throughLibrary)
    {
        _dataset = dataset;
        _elementBytes = dataset.Type.SizeBytes;
        _dimensions = dataset.Space.Dimensions;
        int rank = _dimensions.Length;
        _first = new long[rank];
        _last = new long[rank];
        _cell = new long[rank];
        _low = new long[rank];
        _extent = new long[rank];
        if (throughLibrary)
        {
            _library = new LibraryReader(dataset);
        }
        else if (dataset.Layout.Kind == LayoutKind.Chunked)
        {
            _decoder = new ChunkDecoder(dataset);
            int slots = (int)Math.Clamp(CacheBytes / Math.Max(dataset.ChunkBytes, 1), 1, 64);
            _slots = new byte[slots][];
            _slotChunk = new long[slots];
            _slotUse = new long[slots];
            _slotChunk.AsSpan().Fill(-1);
        }
    }

    /// <summary>Reads a slab.</summary>
    /// <param name="start">First element on each axis.</param>
    /// <param name="count">Elements on each axis.</param>
    /// <param name="destination">Exactly the slab's bytes, row-major, native byte order.</param>
    /// <exception cref="ArgumentException">The slab lies outside the dataset or does not fit the destination.</exception>
    /// <exception cref="StackFormatException">The bytes cannot be read or decoded.</exception>
    public void Read(ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<byte> destination)
    {
        CheckSlab(start, count, destination.Length);
        if (destination.IsEmpty)
            return;
        if (_library is not null)
            _library.Read(start, count, destination);
        else if (_dataset.Layout.Kind == LayoutKind.Chunked)
            ReadChunks(start, count, destination);
        else
            ReadRuns(start, count, destination);
        if (Hdf5Values.IsNumeric(_dataset.Type) && _dataset.Type.IsBigEndian == BitConverter.IsLittleEndian)
            ByteSwap.InPlace(destination, _elementBytes);
    }

    /// <summary>Closes what the reader opened; the dataset stays usable.</summary>
    public void Dispose() => _library?.Dispose();

    private void CheckSlab(ReadOnlySpan<long> start, ReadOnlySpan<long> count, int bytes)
    {
        int rank = _dimensions.Length;
        if (start.Length != rank || count.Length != rank)
            throw new ArgumentException($"A slab of rank {start.Length} in a dataset of rank {rank}.", nameof(start));
        Int128 needed = _elementBytes;
        for (int axis = 0; axis < rank; axis++)
        {
            if (start[axis] < 0 || count[axis] < 0 || start[axis] > _dimensions[axis] - count[axis])
            {
                throw new ArgumentOutOfRangeException(
                    nameof(start),
                    $"Elements {start[axis]} to {start[axis] + count[axis] - 1} of axis {axis} lie outside its {_dimensions[axis]}."
                );
            }
            needed *= count[axis];
        }
        if (needed != bytes)
            throw new ArgumentException($"The slab holds {needed} bytes, the destination {bytes}.", nameof(bytes));
    }

    /// <summary>Contiguous and compact data: runs along the last axes that are asked for whole.</summary>
    private void ReadRuns(ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<byte> destination)
    {
        int rank = _dimensions.Length;
        int split = rank;
        long run = _elementBytes;
        while (split > 0)
        {
            split--;
            run *= count[split];
            if (count[split] != _dimensions[split])
                break;
        }
        _cell.AsSpan().Clear();
        int done = 0;
        while (true)
        {
            long offset = 0;
            for (int axis = 0; axis < rank; axis++)
                offset = offset * _dimensions[axis] + start[axis] + (axis < split ? _cell[axis] : 0);
            Fetch(offset * _elementBytes, destination.Slice(done, (int)run));
            done += (int)run;
            int step = split - 1;
            while (step >= 0 && ++_cell[step] == count[step])
                _cell[step--] = 0;
            if (step < 0)
                return;
        }
    }

    private void Fetch(long byteOffset, Span<byte> destination)
    {
        LayoutMessage layout = _dataset.Layout;
        if (layout.Kind == LayoutKind.Compact)
            layout.Compact.AsSpan((int)byteOffset, destination.Length).CopyTo(destination);
        else if (layout.Address < 0)
            Fill(destination);
        else
            _dataset.Source.ReadExactly(
                _dataset.Source.BaseAddress + layout.Address + byteOffset,
                destination,
                _dataset.Path
            );
    }

    private void ReadChunks(ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<byte> destination)
    {
        ChunkTable table = _dataset.Chunks!;
        long[] chunk = table.Chunk;
        int rank = chunk.Length;
        for (int axis = 0; axis < rank; axis++)
        {
            _first[axis] = start[axis] / chunk[axis];
            _last[axis] = (start[axis] + count[axis] - 1) / chunk[axis];
            _cell[axis] = _first[axis];
        }
        while (true)
        {
            ReadChunk(table, start, count, destination);
            int step = rank - 1;
            while (step >= 0 && ++_cell[step] > _last[step])
            {
                _cell[step] = _first[step];
                step--;
            }
            if (step < 0)
                return;
        }
    }

    private void ReadChunk(ChunkTable table, ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<byte> destination)
    {
        long[] chunk = table.Chunk;
        int rank = chunk.Length;
        long index = 0;
        bool edge = false;
        bool whole = true;
        long at = 0;
        for (int axis = 0; axis < rank; axis++)
        {
            long origin = _cell[axis] * chunk[axis];
            long low = Math.Max(origin, start[axis]);
            long high = Math.Min(Math.Min(origin + chunk[axis], start[axis] + count[axis]), _dimensions[axis]);
            edge |= origin + chunk[axis] > _dimensions[axis];
            whole &= high - low == chunk[axis] && (axis == 0 || count[axis] == chunk[axis]);
            index = index * table.Counts[axis] + _cell[axis];
            at = at * count[axis] + low - start[axis];
            _low[axis] = low - origin;
            _extent[axis] = high - low;
        }
        bool written = table.Addresses[index] >= 0;
        if (whole)
        {
            // The chunk is one run of the destination.
            Span<byte> target = destination.Slice((int)(at * _elementBytes), (int)_dataset.ChunkBytes);
            int cached = Cached(index);
            if (cached >= 0)
                _slots[cached].AsSpan().CopyTo(target);
            else if (written)
                _decoder!.Decode(index, edge, target);
            else
                Fill(target);
            return;
        }
        byte[]? plain = written ? Decoded(index, edge) : null;
        Scatter(plain, chunk, start, count, at, destination);
    }

    private void Scatter(
        byte[]? plain,
        long[] chunk,
        ReadOnlySpan<long> start,
        ReadOnlySpan<long> count,
        long at,
        Span<byte> destination
    )
    {
        int rank = chunk.Length;
        int run = (int)_extent[rank - 1] * _elementBytes;
        Span<long> step = stackalloc long[rank];
        step.Clear();
        while (true)
        {
            long from = 0;
            long to = 0;
            for (int axis = 0; axis < rank; axis++)
            {
                from = from * chunk[axis] + _low[axis] + step[axis];
                to = to * count[axis] + step[axis];
            }
            Span<byte> target = destination.Slice((int)((at + to) * _elementBytes), run);
            if (plain is null)
                Fill(target);
            else
                plain.AsSpan((int)(from * _elementBytes), run).CopyTo(target);
            int move = rank - 2;
            while (move >= 0 && ++step[move] == _extent[move])
                step[move--] = 0;
            if (move < 0)
                return;
        }
    }

    private int Cached(long chunk)
    {
        int slot = _slotChunk.AsSpan().IndexOf(chunk);
        if (slot >= 0)
            _slotUse[slot] = ++_clock;
        return slot;
    }

    private byte[] Decoded(long chunk, bool edge)
    {
        int slot = Cached(chunk);
        if (slot >= 0)
            return _slots[slot]!;
        slot = 0;
        for (int i = 1; i < _slots.Length; i++)
        {
            if (_slotUse[i] < _slotUse[slot])
                slot = i;
        }
        byte[] plain = _slots[slot] ??= new byte[_dataset.ChunkBytes];
        _slotChunk[slot] = -1;
        _decoder!.Decode(chunk, edge, plain);
        _slotChunk[slot] = chunk;
        _slotUse[slot] = ++_clock;
        return plain;
    }

    private void Fill(Span<byte> destination)
    {
        byte[] fill = _dataset.FillBytes;
        if (fill.AsSpan().IndexOfAnyExcept((byte)0) < 0)
        {
            destination.Clear();
            return;
        }
        for (int i = 0; i < destination.Length; i += fill.Length)
            fill.CopyTo(destination[i..]);
    }
}
