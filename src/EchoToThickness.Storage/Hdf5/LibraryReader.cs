using System.Buffers.Binary;
using EchoToThickness.Stacks;
using PureHDF;
using PureHDF.Filters;
using PureHDF.Selections;
using PureHDF.VOL.Native;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>
/// Reads slabs through PureHDF, for layouts that the direct path does not know and as its reference. Every exception of the
/// library becomes a <see cref="StackFormatException"/> here and nowhere else.
/// </summary>
internal sealed class LibraryReader : IDisposable
{
    private static readonly Lock Gate = new();
    private static bool _registered;

    private readonly Hdf5Dataset _dataset;
    private readonly NativeFile _file;
    private readonly NativeDataset _target;
    private readonly H5DatasetAccess _access;

    public LibraryReader(Hdf5Dataset dataset)
    {
        _dataset = dataset;
        foreach (FilterEntry filter in dataset.FilterEntries)
        {
            if (filter.Id is FilterMessage.Szip or > 6 and not FilterMessage.Lzf)
            {
                throw dataset.Source.Unsupported(
                    dataset.Path,
                    $"The filter {filter.Name} is not known (known: deflate, shuffle, fletcher32, lzf, nbit, scaleoffset).",
                    "rewrite the dataset with gzip and shuffle: h5repack -f SHUF -f GZIP=1."
                );
            }
        }
        CheckKnownFaults();
        Register();
        NativeFile? file = null;
        try
        {
            file = (NativeFile)H5File.OpenRead(dataset.Source.Path);
            _target = (NativeDataset)file.Dataset(dataset.Path);
            _file = file;
        }
        catch (Exception e) when (e is not StackFormatException)
        {
            file?.Dispose();
            throw Wrap(e);
        }
        ulong cache = (ulong)Math.Clamp(dataset.ChunkBytes * 16, 1 << 20, 64 << 20);
        _access = new H5DatasetAccess(ChunkCache: new SimpleReadingChunkCache(4096, cache));
    }

    /// <summary>Reads a slab in stored byte order.</summary>
    public void Read(ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<byte> destination)
    {
        int rank = start.Length;
        ulong[] starts = new ulong[rank];
        ulong[] blocks = new ulong[rank];
        for (int i = 0; i < rank; i++)
        {
            starts[i] = (ulong)start[i];
            blocks[i] = (ulong)count[i];
        }
        try
        {
            Selection selection = rank == 0 ? new AllSelection() : new HyperslabSelection(rank, starts, blocks);
            // Bytes, whatever the type: the library would refuse big-endian numbers and reinterpret others.
            byte[] raw = _target.Read<byte[]>(_access, selection);
            if (raw.Length != destination.Length)
                throw _dataset.Source.Damaged(
                    _dataset.Path,
                    $"{raw.Length} bytes were read, {destination.Length} are needed."
                );
            raw.CopyTo(destination);
        }
        catch (Exception e) when (e is not StackFormatException)
        {
            throw Wrap(e);
        }
    }

    public void Dispose() => _file.Dispose();

    /// <summary>What PureHDF 2.2.0 was seen to read wrongly without complaint is refused instead.</summary>
    private void CheckKnownFaults()
    {
        // Array indexes: slots are counted by the current extent, but the file counts them by the greatest one.
        DataspaceMessage space = _dataset.Space;
        bool byMaximum =
            _dataset.Layout.Kind == LayoutKind.Chunked
            && _dataset.Layout.Index
                is ChunkIndexKind.FixedArray
                    or ChunkIndexKind.Implicit
                    or ChunkIndexKind.ExtensibleArray;
        for (int axis = 0; byMaximum && axis < space.Dimensions.Length; axis++)
        {
            if (space.MaxDimensions[axis] >= 0 && space.MaxDimensions[axis] != space.Dimensions[axis])
                throw Refused(
                    $"axis {axis} is {space.Dimensions[axis]} long but may grow to {space.MaxDimensions[axis]}"
                );
        }
        // Filters left out of a chunk: the mask is shifted by one.
        if (_dataset.Chunks?.Masks is not null)
            throw Refused("some chunks leave a filter out");

        StackFormatException Refused(string why) =>
            _dataset.Source.Unsupported(
                _dataset.Path,
                $"The dataset needs the HDF5 library ({_dataset.UnknownReason ?? "asked for"}), which would read it wrongly: {why}.",
                "rewrite the dataset with its present extent, gzip and shuffle (h5repack -f SHUF -f GZIP=1)."
            );
    }

    private StackFormatException Wrap(Exception e) =>
        new(
            $"The HDF5 library cannot read the dataset ({e.Message.TrimEnd('.')}).",
            _dataset.Source.Path,
            _dataset.Path,
            "rewrite the dataset with gzip and shuffle (h5repack -f SHUF -f GZIP=1), or copy the file again if it is damaged.",
            e
        );

    private static void Register()
    {
        lock (Gate)
        {
            if (_registered)
                return;
            H5Filter.Register(new CheckingFletcher());
            H5Filter.Register(new LzfFilter());
            _registered = true;
        }
    }

    /// <summary>Replaces the built-in filter, which hands out a slice of a pooled buffer: wrong data when it is the only one.</summary>
    private sealed class CheckingFletcher : IH5Filter
    {
        public ushort FilterId => FilterMessage.Fletcher32;

        public string Name => "fletcher32";

        public Memory<byte> Filter(FilterInfo info)
        {
            ReadOnlySpan<byte> bytes = info.Buffer.Span;
            if ((info.Flags & H5FilterFlags.Decompress) == 0)
            {
                byte[] sealedBytes = new byte[bytes.Length + 4];
                bytes.CopyTo(sealedBytes);
                BinaryPrimitives.WriteUInt32LittleEndian(
                    sealedBytes.AsSpan(bytes.Length),
                    Hdf5Checksums.Fletcher32(bytes)
                );
                return sealedBytes;
            }
            if (
                bytes.Length < 4
                || BinaryPrimitives.ReadUInt32LittleEndian(bytes[^4..]) != Hdf5Checksums.Fletcher32(bytes[..^4])
            )
                throw new InvalidDataException("the Fletcher-32 checksum of a chunk does not fit");
            return bytes[..^4].ToArray();
        }

        public uint[] GetParameters(uint[] chunkDimensions, uint typeSize, Dictionary<string, object>? options) => [];
    }

    private sealed class LzfFilter : IH5Filter
    {
        public ushort FilterId => FilterMessage.Lzf;

        public string Name => "lzf";

        public Memory<byte> Filter(FilterInfo info)
        {
            if ((info.Flags & H5FilterFlags.Decompress) == 0)
                throw new NotSupportedException("LZF is only read");
            byte[] plain = new byte[info.ChunkSize];
            return Lzf.TryUnpack(info.Buffer.Span, plain)
                ? plain
                : throw new InvalidDataException("the LZF data of a chunk are damaged");
        }

        public uint[] GetParameters(uint[] chunkDimensions, uint typeSize, Dictionary<string, object>? options) => [];
    }
}
