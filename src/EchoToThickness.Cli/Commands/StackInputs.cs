using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;

namespace EchoToThickness.Cli.Commands;

/// <summary>The arguments by which every command names a stack, and the opening of it.</summary>
internal sealed class StackInputs
{
    public Argument<string> Stack { get; } =
        new("STACK")
        {
            Description =
                "Stack of A-scans: a native HDF5 file, or with --layout any HDF5, .npy or raw file, or a folder of them.",
        };

    public Option<string?> Layout { get; } =
        new("--layout", "-l")
        {
            Description = "Layout map (TOML) that tells where things are in a foreign file; 'describe' proposes one.",
            HelpName = "FILE",
        };

    public Option<string?> Line { get; } =
        new("--line") { Description = "Which scan line, where the stack holds several.", HelpName = "NAME" };

    public void AddTo(Command command)
    {
        command.Add(Stack);
        command.Add(Layout);
        command.Add(Line);
    }

    /// <summary>Opens the one line that is meant; the caller disposes it.</summary>
    public IAScanSource Open(ParseResult parsed) =>
        Open(parsed.GetRequiredValue(Stack), parsed.GetValue(Layout), parsed.GetValue(Line));

    public static IAScanSource Open(string path, string? layout, string? line)
    {
        if (!Directory.Exists(path))
            Files.MustExist(path, "stack");
        if (layout is not null)
            Files.MustExist(layout, "layout");
        IReadOnlyList<(string Line, IAScanSource Source)> lines = StackOpener.Open(path, layout);
        string names = string.Join(", ", lines.Select(l => $"'{l.Line}'"));
        (string Line, IAScanSource Source)[] meant = line is null
            ? [.. lines]
            : [.. lines.Where(l => string.Equals(l.Line, line, StringComparison.Ordinal))];
        foreach ((_, IAScanSource source) in meant.Length == 1 ? lines.Except(meant) : lines)
            source.Dispose();
        if (meant.Length == 1)
            return meant[0].Source;
        throw meant.Length == 0
            ? new UserException($"{path} has no scan line '{line}'.", $"use one of {names}.")
            : new UserException($"{path} holds {lines.Count} scan lines.", $"choose one with --line: {names}.");
    }
}
