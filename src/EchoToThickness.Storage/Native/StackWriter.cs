using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>
/// Writes a stack file line by line, streaming: memory holds one chunk. The file appears under its name only in
/// <see cref="Complete"/>; disposing before that leaves the old file, if any, and nothing else.
/// </summary>
public sealed class StackWriter : IDisposable
{
    private readonly AtomicFile _file;
    private readonly Hdf5Builder _builder;
    private readonly StackWriterOptions _options;
    private readonly StoredGroup _lines;
    private readonly List<StackLineWriter> _open = [];
    private bool _complete;

    private StackWriter(AtomicFile file, StackWriterOptions options)
    {
        _file = file;
        _options = options;
        _builder = new Hdf5Builder(file.Handle);
        _builder.Root.SetFixed("format", StackLayout.Format);
        _builder.Root.SetFixed("format_version", $"{StackLayout.Major}.{StackLayout.Minor}");
        _lines = _builder.Root.Group(StackLayout.Lines);
    }

    /// <summary>Starts a stack file.</summary>
    /// <param name="path">Where it will stand.</param>
    /// <param name="options">Packing and flushing; null for the defaults.</param>
    /// <exception cref="StackFormatException">The place cannot be written.</exception>
    public static StackWriter Create(string path, StackWriterOptions? options = null) =>
        new(AtomicFile.Create(path), options ?? new StackWriterOptions());

    /// <summary>Starts a line. Lines may be written side by side, each by one thread.</summary>
    /// <param name="name">Name within the file; not empty, without <c>/</c>.</param>
    /// <param name="info">Everything but the samples; the extent counts.</param>
    /// <exception cref="StackFormatException">Positions repeat or run backwards.</exception>
    public StackLineWriter AddLine(string name, StackInfo info)
    {
        ArgumentException.ThrowIfNullOrEmpty(name);
        ArgumentNullException.ThrowIfNull(info);
        if (name.Contains('/') || name == ".")
            throw new ArgumentException($"The name '{name}' cannot stand in an HDF5 path.", nameof(name));
        if (_lines.Members.Exists(m => m.Name == name))
            throw new ArgumentException($"There is already a line '{name}'.", nameof(name));
        if (info.ScanPositionsMetres is { } scan)
            PositionRules.Monotonic([.. scan], _file.Path, $"/lines/{name}/{StackLayout.ScanPosition}");
        if (info.IndexPositionsMetres is { } index)
            PositionRules.Distinct([.. index], _file.Path, $"/lines/{name}/{StackLayout.IndexPosition}");
        StackLineWriter line = new(_builder, _lines.Group(name), info, _options);
        _open.Add(line);
        return line;
    }

    /// <summary>Finishes the file and puts it in its place.</summary>
    /// <exception cref="InvalidOperationException">A line has fewer scan positions than it announced.</exception>
    public void Complete()
    {
        ObjectDisposedException.ThrowIf(_complete, this);
        if (_open.Count == 0)
            throw new InvalidOperationException("A stack needs at least one line.");
        foreach (StackLineWriter line in _open)
            line.Finish();
        _builder.Finish();
        _file.Commit(_options.FlushToDisk);
        _complete = true;
    }

    /// <summary>Drops the file unless it was completed.</summary>
    public void Dispose()
    {
        foreach (StackLineWriter line in _open)
            line.Dispose();
        _file.Dispose();
    }
}
