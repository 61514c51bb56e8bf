using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.Text;

namespace EchoToThickness.Cli.Terminal;

/// <summary>Writes the help page of a command: what it does, how it is typed, its options, examples. Never wider than 80 columns.</summary>
public sealed class HelpPage : SynchronousCommandLineAction
{
    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        ArgumentNullException.ThrowIfNull(parseResult);
        parseResult.InvocationConfiguration.Output.Write(Of(parseResult.CommandResult.Command));
        return ExitCode.Done;
    }

    /// <summary>The help page of a command.</summary>
    /// <param name="command">The command.</param>
    public static string Of(Command command)
    {
        ArgumentNullException.ThrowIfNull(command);
        var page = new StringBuilder();
        page.Append(TextLayout.Wrap(command.Description ?? "", Talk.Columns));
        page.Append('\n').Append("Usage\n");
        page.Append(TextLayout.Wrap(Usage(command), Talk.Columns, 2, 4));
        if (command is ToolCommand { Details.Length: > 0 } tool)
            page.Append('\n').Append(TextLayout.Wrap(tool.Details, Talk.Columns));
        Section("Arguments", command.Arguments.Select(a => (Name(a), a.Description ?? "")));
        Section("Commands", command.Subcommands.Select(c => (c.Name, First(c.Description ?? ""))));
        Section("Options", Options(command).Select(o => (Name(o), o.Description ?? "")));
        if (command is ToolCommand { Examples.Count: > 0 } shown)
        {
            page.Append('\n').Append("Examples\n");
            foreach ((string typed, string does) in shown.Examples)
                page.Append("  ").Append(typed).Append('\n').Append(TextLayout.Wrap(does, Talk.Columns, 6));
        }
        if (command.Subcommands.Count > 0)
            page.Append('\n').Append($"'{Path(command)} COMMAND --help' explains one command.\n");
        return page.ToString();

        void Section(string title, IEnumerable<(string, string)> rows)
        {
            (string, string)[] all = rows.ToArray();
            if (all.Length > 0)
                page.Append('\n').Append(title).Append('\n').Append(TextLayout.List(all, Talk.Columns));
        }
    }

    /// <summary>The words that lead to a command, from the program's name on.</summary>
    /// <param name="command">The command.</param>
    public static string Path(Command command)
    {
        ArgumentNullException.ThrowIfNull(command);
        Command? parent = command.Parents.OfType<Command>().FirstOrDefault();
        return parent is null ? CommandLineProgram.Name : Path(parent) + " " + command.Name;
    }

    private static string Usage(Command command)
    {
        var words = new List<string> { Path(command) };
        if (command.Subcommands.Count > 0)
            words.Add("COMMAND");
        words.AddRange(command.Arguments.Select(a => a.Arity.MinimumNumberOfValues == 0 ? $"[{Name(a)}]" : Name(a)));
        words.AddRange(command.Options.Where(o => o.Required).Select(o => $"{o.Name}\u00a0{o.HelpName}"));
        if (Options(command).Any(o => !o.Required))
            words.Add("[options]");
        return string.Join(' ', words).Replace('\u00a0', ' ');
    }

    private static IEnumerable<Option> Options(Command command)
    {
        IEnumerable<Option> inherited = command
            .Parents.OfType<Command>()
            .SelectMany(p => Options(p).Where(o => o.Recursive && !command.Options.Any(own => own.Name == o.Name)));
        return command.Options.Where(o => !o.Hidden).OrderBy(o => o is HelpOption ? 1 : 0).Concat(inherited);
    }

    private static string Name(Argument argument) => argument.HelpName ?? argument.Name.ToUpperInvariant();

    private static string Name(Option option)
    {
        IEnumerable<string> names = option
            .Aliases.Where(a => a.StartsWith('-'))
            .Append(option.Name)
            .OrderBy(a => a.Length);
        bool takesValue = option.Arity.MaximumNumberOfValues > 0 && option.ValueType != typeof(bool);
        return string.Join(", ", names) + (takesValue ? " " + (option.HelpName ?? "VALUE") : "");
    }

    private static string First(string description)
    {
        int end = description.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? description : description[..(end + 1)];
    }
}
