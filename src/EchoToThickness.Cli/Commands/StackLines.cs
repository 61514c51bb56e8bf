using System.Collections;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;

namespace EchoToThickness.Cli.Commands;

/// <summary>The open scan lines of a stack that a command is about.</summary>
internal sealed class StackLines : IReadOnlyList<(string Name, IAScanSource Source)>, IDisposable
{
    private readonly IReadOnlyList<(string Name, IAScanSource Source)> _lines;

    private StackLines(IReadOnlyList<(string Name, IAScanSource Source)> lines) => _lines = lines;

    public int Count => _lines.Count;

    public long Cells => _lines.Sum(l => l.Source.Info.Shape.Cells);

    public (string Name, IAScanSource Source) this[int index] => _lines[index];

    /// <summary>Opens a stack; with a name, only that line of it.</summary>
    public static StackLines Open(string path, string? layout, string? line)
    {
        if (!Directory.Exists(path))
            Files.MustExist(path, "stack");
        if (layout is not null)
            Files.MustExist(layout, "layout");
        IReadOnlyList<(string Line, IAScanSource Source)> all = OpenAll(path, layout);
        if (line is null)
            return new StackLines(all);
        foreach ((_, IAScanSource source) in all.Where(l => l.Line != line))
            source.Dispose();
        (string, IAScanSource)[] meant = [.. all.Where(l => l.Line == line)];
        return meant.Length == 1
            ? new StackLines(meant)
            : throw new UserException(
                $"{path} has no scan line '{line}'.",
                all is [{ Line: "" }]
                    ? "leave --line out: the stack holds one line without a name."
                    : $"use one of {Names(all.Select(l => l.Line))}."
            );
    }

    /// <summary>Opens every line; says so where the file is a result instead of a stack.</summary>
    private static IReadOnlyList<(string Line, IAScanSource Source)> OpenAll(string path, string? layout)
    {
        try
        {
            return StackOpener.Open(path, layout);
        }
        catch (StackFormatException)
        {
            Files.IsNoGrid(path);
            throw;
        }
    }

    /// <summary>The only line, for commands that are about one.</summary>
    public IAScanSource Only(string path) =>
        _lines.Count == 1
            ? _lines[0].Source
            : throw new UserException(
                $"{path} holds {_lines.Count} scan lines.",
                $"choose one with --line: {Names(_lines.Select(l => l.Name))}."
            );

    public IEnumerator<(string Name, IAScanSource Source)> GetEnumerator() => _lines.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    public void Dispose()
    {
        foreach ((_, IAScanSource source) in _lines)
            source.Dispose();
    }

    private static string Names(IEnumerable<string> names) => string.Join(", ", names.Select(name => $"'{name}'"));
}
