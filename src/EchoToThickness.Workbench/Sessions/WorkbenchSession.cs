using System.Text;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Workbench.Sessions;

/// <summary>An open stack, the procedure that is being turned on it, and what was measured last.</summary>
public sealed class WorkbenchSession : IDisposable
{
    private readonly IReadOnlyList<IAScanSource> _opened;
    private readonly IAScanSource _file;
    private readonly Lock _lock = new();
    private CancellationTokenSource? _running;

    private WorkbenchSession(
        WorkbenchOptions options,
        IReadOnlyList<IAScanSource> opened,
        IAScanSource file,
        IAScanSource source,
        string? procedureName,
        string text
    )
    {
        Options = options;
        _opened = opened;
        _file = file;
        Source = source;
        ProcedureName = procedureName;
        History = new ProcedureHistory(text);
        Evidence = new EvidenceStore(source, options.MemoryBytes / 2);
        string folder = options.ProcedurePath ?? options.StackPath;
        Folder = new SessionFolder(
            options.ProcedurePath is null && Directory.Exists(folder)
                ? folder
                : Path.GetDirectoryName(Path.GetFullPath(folder))!
        );
    }

    /// <summary>What was opened.</summary>
    public WorkbenchOptions Options { get; }

    /// <summary>The stack that is measured: the samples in memory, or the file.</summary>
    public IAScanSource Source { get; }

    /// <summary>Whether samples are kept in memory.</summary>
    public bool InMemory => Source is MemoryAScanSource;

    internal ProcedureHistory History { get; }

    internal SessionFolder Folder { get; }

    internal EvidenceStore Evidence { get; }

    /// <summary>One measurement at a time.</summary>
    internal SemaphoreSlim Turn { get; } = new(1, 1);

    /// <summary>Guards history and names.</summary>
    internal Lock Guard => _lock;

    /// <summary>Name of the procedure file in the folder; null before the first save of a procedure that was opened without one.</summary>
    internal string? ProcedureName { get; set; }

    /// <summary>The last map that was measured in full with every layer of the page.</summary>
    internal MapResult? Current { get; set; }

    /// <summary>The map it is compared with.</summary>
    internal MapResult? Reference { get; set; }

    /// <summary>What the map was that the command line was given (<c>--grid</c>); null for none.</summary>
    internal MapResult? Grid { get; private set; }

    /// <summary>The truth of the stack, where it has one.</summary>
    internal ITruthSource? Truth =>
        _file is ITruthSource truth && truth.TruthLayers.Contains("thickness") ? truth : null;

    /// <summary>Opens stack, procedure and grid.</summary>
    /// <param name="options">What to open.</param>
    /// <param name="cancellation">Stops the loading.</param>
    /// <exception cref="StackFormatException">Stack or grid cannot be read.</exception>
    /// <exception cref="ProcedureException">The procedure is at fault, or cannot be used with the stack.</exception>
    /// <exception cref="WorkbenchException">The stack holds several lines and none was named, or the grid belongs to another stack.</exception>
    public static WorkbenchSession Open(WorkbenchOptions options, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(options);
        string text = options.ProcedurePath is { } path ? File.ReadAllText(path, Encoding.UTF8) : "";
        Procedure procedure = ProcedureText.Parse(text, options.ProcedurePath ?? "procedure");
        IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(
            options.StackPath,
            options.LayoutPath
        );
        IAScanSource[] opened = [.. lines.Select(l => l.Source)];
        try
        {
            IAScanSource file = Choose(options, lines);
            _ = MeasurementPlan.Compile(procedure, file.Info);
            var session = new WorkbenchSession(
                options,
                opened,
                file,
                MemoryCopy.Of(file, options.MemoryBytes, cancellation),
                options.ProcedurePath is null ? null : Path.GetFileName(options.ProcedurePath),
                text
            );
            if (options.GridPath is { } grid)
                session.Reference = session.Grid = ReadGrid(grid, options.Line, file.Info.Shape);
            return session;
        }
        catch
        {
            foreach (IAScanSource source in opened)
                source.Dispose();
            throw;
        }
    }

    /// <summary>How the command line names a file of the folder: as the user typed it where it is the opened one.</summary>
    internal string? CommandName(string? name) =>
        name is null ? null
        : Options.ProcedurePath is { } opened && Path.GetFileName(opened) == name ? opened
        : Path.GetRelativePath(Environment.CurrentDirectory, Path.Combine(Folder.Path, name));

    /// <summary>Begins a measurement and stops the one before: its map is stale.</summary>
    internal CancellationTokenSource Supersede(CancellationToken client)
    {
        lock (_lock)
        {
            _running?.Cancel();
            _running = CancellationTokenSource.CreateLinkedTokenSource(client);
            return _running;
        }
    }

    /// <summary>A measurement has ended.</summary>
    internal void Ended(CancellationTokenSource running)
    {
        lock (_lock)
        {
            if (_running == running)
                _running = null;
            running.Dispose();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (_lock)
            _running?.Cancel();
        Turn.Wait();
        Turn.Dispose();
        foreach (IAScanSource source in _opened)
            source.Dispose();
        Source.Dispose();
    }

    private static IAScanSource Choose(
        WorkbenchOptions options,
        IReadOnlyList<(string Line, IAScanSource Source)> lines
    )
    {
        string names = string.Join(", ", lines.Select(l => $"'{l.Line}'"));
        if (options.Line is null)
            return lines.Count == 1
                ? lines[0].Source
                : throw new WorkbenchException(
                    $"{options.StackPath} holds {lines.Count} scan lines.",
                    $"choose one with --line: {names}."
                );
        foreach ((string line, IAScanSource source) in lines)
        {
            if (line == options.Line)
                return source;
        }
        throw new WorkbenchException($"{options.StackPath} has no scan line '{options.Line}'.", $"use one of {names}.");
    }

    private static MapResult ReadGrid(string path, string? line, StackShape shape)
    {
        using GridFile grid = GridFile.Open(path);
        GridMap map =
            grid.Maps.FirstOrDefault(m => grid.Maps.Count == 1 || m.Name == line)
            ?? throw new WorkbenchException($"{path} has no map '{line}'.", "name the line with --line.");
        if (map.Scans != shape.Scans || map.Beams != shape.Beams)
            throw new WorkbenchException(
                $"{path} holds {map.Scans} x {map.Beams} cells, the stack {shape.Scans} x {shape.Beams}.",
                "give the grid that was measured from this stack."
            );
        var result = new MapResult(map.Scans, map.Beams, [GridLayer.Thickness], map.Facts.ProcedureText);
        map.ReadFloats(GridLayer.Thickness, 0, result[GridLayer.Thickness]);
        map.ReadBytes(GridLayer.Status, 0, result.Status);
        return result;
    }
}
