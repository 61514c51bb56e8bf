using System.CommandLine;

namespace EchoToThickness.Cli.Terminal;

/// <summary>A command that knows its examples; help and documentation read them here.</summary>
public sealed class ToolCommand : Command
{
    /// <summary>Makes a command.</summary>
    /// <param name="name">Name as typed.</param>
    /// <param name="description">One or two sentences; the first stands in the list of commands.</param>
    public ToolCommand(string name, string description)
        : base(name, description) { }

    /// <summary>Further paragraphs for the help page.</summary>
    public string Details { get; init; } = "";

    /// <summary>Examples: what is typed and what it does.</summary>
    public IReadOnlyList<(string Typed, string Does)> Examples { get; init; } = [];
}
