using System.Text.Json;
using EchoToThickness.Cli.Terminal;
using Xunit;

namespace EchoToThickness.Cli.Tests;

public sealed class CompareCommandTests : IDisposable
{
    private const string Study = """
        [study]
        name = "small"
        repeats = 30
        [[plate]]
        [[sweep]]
        key = "snr"
        values = ["10 dB", "20 dB", "30 dB"]
        [[method]]
        name = "train"
        [[method]]
        name = "train, 1 % thick"
        set = ["velocity.value = 5979.2 m/s"]
        [report]
        bootstrap = 100
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-cli-compare").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Compare_SmallStudy_WritesTablesAndFiguresAndGoesOn()
    {
        string study = Write(Study);
        string output = Path.Combine(_folder, "study-results");
        Run first = Run.Of("compare", study, "-j", "2");
        Assert.Equal(ExitCode.Done, first.Code);
        Assert.Contains("| plate | train, 1 % thick | 90 |", first.Data, StringComparison.Ordinal);
        Assert.Contains("180 A-scans measured, in", first.Words.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.All(
            [
                "results.md",
                "results.csv",
                "results.json",
                "paired.csv",
                "thresholds.csv",
                "rates.png",
                "rates.svg",
                "error-by-snr.png",
                "rates-by-snr.svg",
            ],
            name => Assert.True(new FileInfo(Path.Combine(output, name)).Length > 100, name)
        );
        // The head and a row a method. Run times differ in their digits from run to run, and with them the length of the file.
        Assert.Equal(3, File.ReadAllLines(Path.Combine(output, "times.csv")).Length);
        // 90 cells are too few for a bin of 400: the head alone.
        Assert.Single(File.ReadAllLines(Path.Combine(output, "reliability.csv")));
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(Path.Combine(output, "results.json")));
        JsonElement row = json
            .RootElement.GetProperty("rows")
            .EnumerateArray()
            .First(r => r.GetProperty("method").GetString() == "train, 1 % thick");
        // Walls of 7.9 to 8.1 mm and 1 %: 80 um.
        Assert.Equal(80e-6, row.GetProperty("bias").GetProperty("value").GetDouble(), 1e-6);

        byte[] before = File.ReadAllBytes(Path.Combine(output, "results.json"));
        Run second = Run.Of("compare", study);
        Assert.Contains(
            "0 A-scans measured, 180 found finished",
            second.Words.ReplaceLineEndings(" "),
            StringComparison.Ordinal
        );
        Assert.Equal(before, File.ReadAllBytes(Path.Combine(output, "results.json")));
    }

    [Fact]
    public void Compare_Interrupted_SaysSoAndLeavesNoResult()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        string study = Write(Study);
        Run run = Run.With(["compare", study], stop.Token);
        Assert.Equal(ExitCode.Interrupted, run.Code);
        Assert.False(File.Exists(Path.Combine(_folder, "study-results", "results.json")));
    }

    [Fact]
    public void Check_Study_SaysWhatItWouldDoAndWritesNothing()
    {
        Run run = Run.Of("compare", Write(Study), "--check");
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Contains("3 points, 90 A-scans", run.Data, StringComparison.Ordinal);
        Assert.Contains("180 A-scans to measure", run.Data, StringComparison.Ordinal);
        Assert.Single(Directory.GetFileSystemEntries(_folder));
    }

    [Theory]
    [InlineData("plate", "coupling_jitter")]
    [InlineData("scene", "wall.roughness[1].rms")]
    [InlineData("procedure", "pairing.minimum_snr")]
    public void List_Kind_NamesItsKeysIn80Columns(string kind, string key)
    {
        Run run = Run.Of("compare", "--list", kind);
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Contains(key, run.Data, StringComparison.Ordinal);
        Assert.All(run.Data.Split('\n'), line => Assert.True(line.Length <= Talk.Columns, line));
    }

    [Fact]
    public void Compare_WrongCalls_SayHowToFixThem()
    {
        string study = Write(Study);
        (string[] Typed, string Words)[] wrongCalls =
        [
            (["compare"], "No study is named"),
            (["compare", "none.toml"], "There is no study file none.toml"),
            (["compare", study, "--list", "plate"], "leave the study out"),
            (["compare", "--list", "plates"], "write --list with one of"),
            (["compare", study, "-o", study], "is a file"),
            (
                ["compare", Write(Study.Replace("\"snr\"", "\"snrr\"", StringComparison.Ordinal), "wrong.toml")],
                "did you mean 'snr'?"
            ),
        ];
        Assert.All(
            wrongCalls,
            wrong =>
            {
                Run run = Run.Of(wrong.Typed);
                Assert.Equal(ExitCode.CouldNotRun, run.Code);
                Assert.Equal("", run.Data);
                Assert.Contains(wrong.Words, run.Words.ReplaceLineEndings(" "), StringComparison.Ordinal);
                Assert.DoesNotContain("   at ", run.Words, StringComparison.Ordinal);
            }
        );
    }

    private string Write(string text, string name = "study.toml")
    {
        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}
