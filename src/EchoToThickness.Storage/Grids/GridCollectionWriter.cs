using EchoToThickness.Grids;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Grids;

/// <summary>Writes the grids of several lines into one file, a group each (<c>/line/thickness</c>).</summary>
public sealed class GridCollectionWriter : IDisposable
{
    private readonly AtomicFile _file;
    private readonly Hdf5Builder _builder;
    private readonly bool _flushToDisk;
    private readonly HashSet<string> _names = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();
    private int _open;

    /// <summary>Starts a grid file.</summary>
    /// <param name="path">Where it will stand.</param>
    /// <param name="flushToDisk">Wait until the bytes are on the disk before the file takes its name.</param>
    /// <exception cref="Stacks.StackFormatException">The place cannot be written.</exception>
    public GridCollectionWriter(string path, bool flushToDisk = true)
    {
        _file = AtomicFile.Create(path);
        _flushToDisk = flushToDisk;
        _builder = new Hdf5Builder(_file.Handle);
        _builder.Root.SetText("format", GridFormat.Format);
        _builder.Root.SetText("format_version", $"{GridFormat.Major}.{GridFormat.Minor}");
    }

    /// <summary>Starts the grid of a line.</summary>
    /// <param name="name">Name of the group; not empty, without <c>/</c>.</param>
    public IGridSink AddLine(string name)
    {
        ArgumentException.ThrowIfNullOrEmpty(name);
        if (name.Contains('/') || name == "." || !_names.Add(name))
            throw new ArgumentException($"'{name}' cannot name a line, or is already there.", nameof(name));
        return Add(_builder.Root.Group(name));
    }

    /// <summary>Finishes the file and puts it in its place.</summary>
    /// <exception cref="InvalidOperationException">A line was not completed.</exception>
    public void Complete()
    {
        if (_open > 0)
            throw new InvalidOperationException($"{_open} lines of the grid are not complete.");
        _builder.Finish();
        _file.Commit(_flushToDisk);
    }

    /// <summary>Drops the file unless it was completed.</summary>
    public void Dispose() => _file.Dispose();

    internal IGridSink AddRoot() => Add(_builder.Root);

    private GridLineSink Add(StoredGroup group)
    {
        lock (_gate)
            _open++;
        return new GridLineSink(_builder, group, () => Interlocked.Decrement(ref _open));
    }
}
