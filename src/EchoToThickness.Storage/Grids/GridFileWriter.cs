using EchoToThickness.Grids;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Grids;

/// <summary>
/// Writes the grid of one line: layers at the root of the file (<c>/thickness</c>, <c>/status</c>, ...). The file appears under
/// its name in <see cref="Complete"/>; disposing before that leaves the old one. Tiles may come from several threads.
/// </summary>
public sealed class GridFileWriter : IGridSink, IDisposable
{
    private readonly GridCollectionWriter _collection;
    private readonly IGridSink _line;

    /// <summary>Starts a grid file.</summary>
    /// <param name="path">Where it will stand.</param>
    /// <param name="flushToDisk">Wait until the bytes are on the disk before the file takes its name.</param>
    /// <exception cref="Stacks.StackFormatException">The place cannot be written.</exception>
    public GridFileWriter(string path, bool flushToDisk = true)
    {
        _collection = new GridCollectionWriter(path, flushToDisk);
        _line = _collection.AddRoot();
    }

    /// <inheritdoc/>
    public void Begin(GridHeader header) => _line.Begin(header);

    /// <inheritdoc/>
    public void Write(GridTile tile) => _line.Write(tile);

    /// <inheritdoc/>
    public void Complete(GridSummary summary)
    {
        _line.Complete(summary);
        _collection.Complete();
    }

    /// <summary>Drops the file unless it was completed.</summary>
    public void Dispose() => _collection.Dispose();
}
