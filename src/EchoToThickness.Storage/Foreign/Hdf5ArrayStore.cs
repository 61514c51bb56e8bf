using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Foreign;

/// <summary>A dataset of samples in an HDF5 file. Does not own the file.</summary>
internal sealed class Hdf5ArrayStore(string path, Hdf5Dataset dataset, SampleType type) : IArrayStore
{
    public string Path => path;

    public string ObjectPath => dataset.Path;

    public IReadOnlyList<long> Shape => dataset.Dimensions;

    public SampleType Type => type;

    public IReadOnlyList<long>? Chunk => dataset.ChunkDimensions.Count == 0 ? null : dataset.ChunkDimensions;

    public IArrayReader OpenReader() => new Reader(dataset.OpenReader());

    public void Dispose() { }

    private sealed class Reader(Hdf5Reader reader) : IArrayReader
    {
        public void Read(ReadOnlySpan<long> start, ReadOnlySpan<int> count, Span<byte> destination)
        {
            Span<long> counts = stackalloc long[count.Length];
            for (int i = 0; i < count.Length; i++)
                counts[i] = count[i];
            reader.Read(start, counts, destination);
        }

        public void Dispose() => reader.Dispose();
    }
}
