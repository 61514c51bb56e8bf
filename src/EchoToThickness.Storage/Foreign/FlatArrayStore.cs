using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;
using Microsoft.Win32.SafeHandles;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Samples in one piece of a file behind a header: raw binary, <c>.npy</c>, contiguous HDF5 datasets.</summary>
internal sealed class FlatArrayStore : IArrayStore
{
    private readonly SafeFileHandle _handle;
    private readonly long _offset;
    private readonly bool _swap;
    private readonly long[] _shape;

    /// <summary>Opens the file and checks that it is long enough.</summary>
    /// <param name="path">File.</param>
    /// <param name="offsetBytes">Bytes ahead of the first sample.</param>
    /// <param name="shape">Extents, slowest axis first; none negative.</param>
    /// <param name="type">Type of the samples.</param>
    /// <param name="bigEndian">Byte order of the file.</param>
    /// <param name="objectPath">Object in the file, for messages; empty when the file is the array.</param>
    /// <exception cref="StackFormatException">The file cannot be opened or is too short for the extents.</exception>
    public FlatArrayStore(
        string path,
        long offsetBytes,
        IReadOnlyList<long> shape,
        SampleType type,
        bool bigEndian,
        string objectPath = ""
    )
    {
        Path = path;
        ObjectPath = objectPath;
        Type = type;
        _offset = offsetBytes;
        _shape = [.. shape];
        _swap = bigEndian == BitConverter.IsLittleEndian && type.SizeBytes() > 1;
        long available = Math.Max(0, ForeignFile.Length(path) - offsetBytes);
        long need = type.SizeBytes();
        foreach (long extent in shape)
        {
            if (extent <= 0 || need > available / extent)
            {
                throw new StackFormatException(
                    extent <= 0
                        ? $"An extent is {extent}: [{string.Join(" x ", shape)}]."
                        : $"[{string.Join(" x ", shape)}] samples of {type.SizeBytes()} bytes do not fit into the {available} bytes behind the header of {offsetBytes} bytes.",
                    path,
                    objectPath,
                    "check extents, sample type and header length; if they are right, the file is truncated: copy it again."
                );
            }
            need *= extent;
        }
        _handle = ForeignFile.Open(path);
    }

    public string Path { get; }

    public string ObjectPath { get; }

    public IReadOnlyList<long> Shape => _shape;

    public SampleType Type { get; }

    public IReadOnlyList<long>? Chunk => null;

    public IArrayReader OpenReader() => new Reader(this);

    public void Dispose() => _handle.Dispose();

    private sealed class Reader(FlatArrayStore store) : IArrayReader
    {
        /// <summary>Rows read together with the bytes between them when these are few.</summary>
        private const int WindowBytes = 1 << 20;

        private byte[] _window = [];

        public void Read(ReadOnlySpan<long> start, ReadOnlySpan<int> count, Span<byte> destination)
        {
            int rank = store._shape.Length;
            Span<long> stride = stackalloc long[rank];
            long bytes = store.Type.SizeBytes();
            for (int axis = rank - 1; axis >= 0; axis--)
            {
                stride[axis] = bytes;
                bytes *= store._shape[axis];
            }
            // Axes behind `run` are read whole, so that one run covers them and a stretch of axis `run`.
            int run = rank - 1;
            while (run > 0 && count[run] == store._shape[run])
                run--;
            int runBytes = (int)(count[run] * stride[run]);
            long at = store._offset;
            for (int axis = 0; axis < rank; axis++)
                at += start[axis] * stride[axis];
            if (run == 0)
            {
                ForeignFile.ReadExactly(store._handle, store.Path, at, destination[..runBytes]);
            }
            else
            {
                Span<int> index = stackalloc int[run];
                index.Clear();
                int rows = count[run - 1];
                long rowStride = stride[run - 1];
                int written = 0;
                while (true)
                {
                    long from = at;
                    for (int axis = 0; axis < run - 1; axis++)
                        from += index[axis] * stride[axis];
                    ReadRows(from, rows, rowStride, runBytes, destination[written..]);
                    written += rows * runBytes;
                    int carry = run - 2;
                    while (carry >= 0 && ++index[carry] == count[carry])
                        index[carry--] = 0;
                    if (carry < 0)
                        break;
                }
            }
            if (store._swap)
                ByteSwap.InPlace(destination, store.Type.SizeBytes());
        }

        private void ReadRows(long from, int rows, long rowStride, int runBytes, Span<byte> destination)
        {
            bool gather = runBytes < 4096 && rowStride <= 16L * Math.Max(runBytes, 256);
            if (!gather)
            {
                for (int row = 0; row < rows; row++)
                {
                    ForeignFile.ReadExactly(
                        store._handle,
                        store.Path,
                        from + row * rowStride,
                        destination.Slice(row * runBytes, runBytes)
                    );
                }
                return;
            }
            if (_window.Length == 0)
                _window = new byte[WindowBytes];
            int together = Math.Max(1, (int)((WindowBytes - runBytes) / rowStride));
            for (int row = 0; row < rows; row += together)
            {
                int now = Math.Min(together, rows - row);
                int length = (int)((now - 1) * rowStride) + runBytes;
                ForeignFile.ReadExactly(store._handle, store.Path, from + row * rowStride, _window.AsSpan(0, length));
                for (int i = 0; i < now; i++)
                {
                    _window
                        .AsSpan((int)(i * rowStride), runBytes)
                        .CopyTo(destination.Slice((row + i) * runBytes, runBytes));
                }
            }
        }

        public void Dispose() { }
    }
}
