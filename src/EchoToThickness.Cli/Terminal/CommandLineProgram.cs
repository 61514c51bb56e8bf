using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Parsing;
using EchoToThickness.Cli.Commands;
using EchoToThickness.Components;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Documents;
using EchoToThickness.Stacks;
using EchoToThickness.Statistics;
using EchoToThickness.Workbench;

namespace EchoToThickness.Cli.Terminal;

/// <summary>The program: parses the command line, runs a command, turns what went wrong into one paragraph and an exit code.</summary>
public static class CommandLineProgram
{
    /// <summary>Name as typed.</summary>
    public const string Name = "ett";

    /// <summary>Runs the program.</summary>
    /// <param name="arguments">Command-line arguments.</param>
    /// <param name="talk">Where to speak.</param>
    /// <param name="cancellation">Cancelled when the user wants to stop.</param>
    /// <returns>A value of <see cref="ExitCode"/>.</returns>
    public static int Run(IReadOnlyList<string> arguments, Talk talk, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(arguments);
        ArgumentNullException.ThrowIfNull(talk);
        var debug = new Option<bool>("--debug")
        {
            Description = "Show the program's own trace when something unexpected happens.",
            Recursive = true,
        };
        RootCommand root = Root(talk, cancellation);
        root.Add(debug);
        bool trace = arguments.Contains("--debug");
        try
        {
            ParseResult parsed = root.Parse(arguments.Count == 0 ? ["--help"] : arguments);
            // A page about something else than the word that was typed is no help.
            bool lost = parsed.UnmatchedTokens.Count > 0 && parsed.CommandResult.Command.Subcommands.Count > 0;
            if (lost || (parsed.Errors.Count > 0 && parsed.Action is not HelpPage))
                return Complain(parsed, talk);
            return parsed.Invoke(
                new InvocationConfiguration
                {
                    EnableDefaultExceptionHandler = false,
                    Output = talk.Data,
                    Error = talk.Words,
                    ProcessTerminationTimeout = null,
                }
            );
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            talk.Say("Interrupted. Files that were being written have been removed; earlier ones are untouched.");
            return ExitCode.Interrupted;
        }
        catch (Exception error) when (!trace && Explain(error) is { } explanation)
        {
            talk.Say($"{Name}: {explanation}");
            return ExitCode.CouldNotRun;
        }
        catch (Exception error) when (!trace)
        {
            talk.Say(
                $"{Name}: something unexpected happened ({error.GetType().Name}: {error.Message}). This is a fault of the program, not of "
                    + "your files. Please report it with the output of the same command with --debug added."
            );
            return ExitCode.CouldNotRun;
        }
        catch (Exception error)
        {
            talk.Words.WriteLine(error);
            return ExitCode.CouldNotRun;
        }
    }

    /// <summary>The tree of commands.</summary>
    /// <param name="talk">Where commands speak.</param>
    /// <param name="cancellation">Cancelled when the user wants to stop.</param>
    public static RootCommand Root(Talk talk, CancellationToken cancellation)
    {
        var root = new RootCommand(
            "ett turns the raw A-scans of an encoded phased-array scan into a grid of wall thickness, with a status and an uncertainty "
                + "in every cell."
        )
        {
            MeasureCommand.Create(talk, cancellation),
            ExplainCommand.Create(talk),
            WorkbenchCommand.Create(talk, cancellation),
            StatisticsCommand.Create(talk),
            ReportCommand.Create(talk),
            ExportCommand.Create(talk, cancellation),
            DescribeCommand.Create(talk, cancellation),
            ImportCommand.Create(talk, cancellation),
            SimulateCommand.Create(talk, cancellation),
            ScoreCommand.Create(talk),
            CompareCommand.Create(talk, cancellation),
            TuneCommand.Create(talk, cancellation),
            ValidateCommand.Create(talk, cancellation),
            ProcedureCommand.Create(talk),
            DemoCommand.Create(talk, cancellation),
            VersionCommand.Create(talk),
        };
        foreach (HelpOption help in root.Options.OfType<HelpOption>())
        {
            help.Description = "Show this page.";
            help.Action = new HelpPage();
        }
        foreach (Option version in root.Options.Where(o => o.Name == "--version").ToArray())
            root.Options.Remove(version);
        return root;
    }

    private static int Complain(ParseResult parsed, Talk talk)
    {
        Command command = parsed.CommandResult.Command;
        // An unknown word also makes the parser miss a command; one complaint is enough.
        foreach (string word in parsed.UnmatchedTokens)
            talk.Say($"{Name}: there is no command or option '{word}' here.{Hint(word, command)}");
        foreach (ParseError error in parsed.Errors.Where(_ => parsed.UnmatchedTokens.Count == 0))
            talk.Say($"{Name}: {error.Message}");
        talk.Say($"'{HelpPage.Path(command)} --help' shows how it is typed.");
        return ExitCode.CouldNotRun;
    }

    private static string Hint(string word, Command command)
    {
        IEnumerable<string> known = command
            .Subcommands.Select(c => c.Name)
            .Concat(command.Options.Select(o => o.Name))
            .Concat(command.Options.SelectMany(o => o.Aliases));
        return Guess.Nearest(word, known) is { } guess ? $" Did you mean {guess}?" : "";
    }

    private static string? Explain(Exception error) =>
        error switch
        {
            UserException
            or WorkbenchException
            or StackFormatException
            or ProcedureException
            or ComponentException
            or ReportException
            or StatisticsException => error.Message,
            AggregateException { InnerExceptions: [{ } only] } => Explain(only),
            FileNotFoundException missing =>
                $"There is no file {missing.FileName}. To fix: check the name and the folder.",
            DirectoryNotFoundException => $"{error.Message} To fix: make the folder first, or write somewhere else.",
            UnauthorizedAccessException =>
                $"{error.Message} To fix: choose a place you may write to, or change the permissions.",
            IOException => $"{error.Message} To fix: check the disk and that no other program holds the file.",
            _ => null,
        };
}
