using System.CommandLine;
using EchoToThickness.Cli.Terminal;
using Xunit;

namespace EchoToThickness.Cli.Tests;

public sealed class HelpTests
{
    public static TheoryData<string> Commands()
    {
        var data = new TheoryData<string>();
        foreach (Command command in All(Root()))
            data.Add(HelpPage.Path(command));
        return data;
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public void Help_EveryCommand_FitsEightyColumnsAndExplainsEverything(string path)
    {
        Run run = Run.Of([.. path.Split(' ').Skip(1), "--help"]);
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Equal("", run.Words);
        string[] lines = run.Data.Split('\n');
        Assert.All(lines, line => Assert.True(line.Length <= 80, $"{line.Length} columns: {line}"));
        Assert.All(lines, line => Assert.Equal(line.TrimEnd(), line));
        Assert.Contains($"  {path}", run.Data, StringComparison.Ordinal);
        Command command = All(Root()).Single(c => HelpPage.Path(c) == path);
        Assert.All(command.Options, option => Assert.False(string.IsNullOrEmpty(option.Description), option.Name));
        Assert.All(
            command.Arguments,
            argument => Assert.False(string.IsNullOrEmpty(argument.Description), argument.Name)
        );
        if (command.Subcommands.Count == 0 && command.Name != "version")
            Assert.Contains("\nExamples\n", run.Data, StringComparison.Ordinal);
    }

    [Fact]
    public void Help_Examples_CanAllBeParsed()
    {
        RootCommand root = Root();
        string[] examples = All(root).OfType<ToolCommand>().SelectMany(c => c.Examples).Select(e => e.Typed).ToArray();
        Assert.NotEmpty(examples);
        Assert.All(
            examples,
            typed =>
            {
                string[] words = typed.Split('|', '>')[0].Split(' ', StringSplitOptions.RemoveEmptyEntries);
                Assert.Equal("ett", words[0]);
                Assert.Empty(root.Parse(words[1..]).Errors);
            }
        );
    }

    [Fact]
    public void Help_NoArguments_ShowsTheCommands()
    {
        Run run = Run.Of();
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Contains("Commands\n", run.Data, StringComparison.Ordinal);
    }

    private static RootCommand Root() =>
        CommandLineProgram.Root(new Talk(TextWriter.Null, TextWriter.Null, false), CancellationToken.None);

    private static IEnumerable<Command> All(Command command) => command.Subcommands.SelectMany(All).Prepend(command);
}
