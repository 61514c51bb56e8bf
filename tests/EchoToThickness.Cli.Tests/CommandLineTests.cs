using EchoToThickness.Cli.Terminal;
using Xunit;

namespace EchoToThickness.Cli.Tests;

public sealed class CommandLineTests
{
    [Theory]
    [InlineData("measrue", "measure")]
    [InlineData("procedure shwo", "show")]
    [InlineData("measrue --help", "measure")]
    public void UnknownCommand_IsRefusedWithAGuess(string typed, string guess)
    {
        Run run = Run.Of(typed.Split(' '));
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        Assert.Equal("", run.Data);
        Assert.Contains($"Did you mean {guess}?", run.Words, StringComparison.Ordinal);
        Assert.Contains("--help' shows how it is typed.", run.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Version_PrintsDataOnly()
    {
        Run run = Run.Of("version");
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Matches(@"\Aett \d+\.\d+\.\d+\S*\n\.NET 10\.\S+, \S+\n\z", run.Data);
        Assert.Equal("", run.Words);
    }

    [Fact]
    public void Procedure_ShowThenCheck_Agree()
    {
        string folder = Directory.CreateTempSubdirectory("ett-cli").FullName;
        try
        {
            string path = Path.Combine(folder, "defaults.toml");
            File.WriteAllText(path, Run.Of("procedure", "show").Data);
            Run check = Run.Of("procedure", "check", path);
            Assert.Equal(ExitCode.Done, check.Code);
            Assert.Equal(Run.Of("procedure", "show", "--bare").Data, Run.Of("procedure", "show", "--bare", path).Data);

            File.WriteAllText(path, "[wall]\nminmum = \"2 mm\"\n");
            Run bad = Run.Of("procedure", "check", path);
            Assert.Equal(ExitCode.CouldNotRun, bad.Code);
            Assert.Contains("minmum", bad.Words, StringComparison.Ordinal);
            Assert.Contains("minimum", bad.Words, StringComparison.Ordinal);
            NoTrace(bad);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void MissingFile_SaysWhereItLooked()
    {
        Run run = Run.Of("procedure", "check", "no-such.toml");
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        Assert.Contains("There is no procedure file no-such.toml (looked in", run.Words, StringComparison.Ordinal);
        Assert.Contains("To fix:", run.Words, StringComparison.Ordinal);
        NoTrace(run);
    }

    internal static void NoTrace(Run run)
    {
        Assert.DoesNotContain("   at ", run.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", run.Words, StringComparison.Ordinal);
    }
}
