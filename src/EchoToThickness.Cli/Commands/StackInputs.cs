using System.CommandLine;

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

    /// <summary>Opens the lines that are meant; the caller disposes them.</summary>
    public StackLines Open(ParseResult parsed) =>
        StackLines.Open(parsed.GetRequiredValue(Stack), parsed.GetValue(Layout), parsed.GetValue(Line));
}
