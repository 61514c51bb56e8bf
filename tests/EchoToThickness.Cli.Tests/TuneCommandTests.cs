using System.Text.Json;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Simulation;
using Xunit;

namespace EchoToThickness.Cli.Tests;

public sealed class TuneCommandTests : IDisposable
{
    private const string Study = """
        [study]
        name = "small"
        [base]
        procedure = "gates.toml"
        [[stack]]
        files = ["a.h5"]
        [[vary]]
        key = "velocity.value"
        from = "5700 m/s"
        to = "6100 m/s"
        steps = 5
        [[vary]]
        key = "gate[1].take"
        values = ["first", "strongest"]
        [search]
        method = "grid"
        [choice]
        best = 1
        [report]
        worst = 2
        """;

    private const string Gates = """
        [interface]
        pick = "peak"
        [[gate]]
        name = "one"
        start = "0.6 us"
        width = "2.6 us"
        [pairing]
        rule = "difference"
        from = "interface"
        to = "one"
        minimum_snr = "0 dB"
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ett-cli-tune").FullName;

    public TuneCommandTests()
    {
        File.WriteAllText(Path.Combine(_folder, "gates.toml"), Gates);
        EchoTrainStack.Write(
            new EchoTrainSource(
                new EchoTrainScene
                {
                    Scans = 12,
                    Beams = 6,
                    Samples = 700,
                    Wall = new WallMap { NominalMetres = 7e-3 },
                    DropOutFraction = 0.1,
                }
            ),
            Path.Combine(_folder, "a.h5"),
            cancellation: TestContext.Current.CancellationToken
        );
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Tune_SmallStudy_WritesEverythingAndGoesOn()
    {
        string study = Write(Study);
        string output = Path.Combine(_folder, "study-results");
        Run first = Run.Of("tune", study, "-j", "2");
        Assert.True(first.Code == ExitCode.Done, first.Words);
        Assert.StartsWith("| figure | base | chosen |", first.Data, StringComparison.Ordinal);
        Assert.Contains("velocity.value = 5900 m/s", first.Words, StringComparison.Ordinal);
        Assert.All(
            [
                "results.md",
                "results.json",
                "rule-sets.csv",
                "flips.csv",
                "sensitivity.csv",
                "winner.toml",
                "tuning-record.json",
                "trade-off.png",
                "sensitivity.png",
                "effects.png",
                "breaks-1.png",
                "flips-1.png",
                "worst-01.png",
                "worst-02.png",
            ],
            name => Assert.True(new FileInfo(Path.Combine(output, name)).Length > 30, name)
        );
        // The grid's ten rule sets and the base, under one line of headings.
        Assert.Equal(12, File.ReadAllLines(Path.Combine(output, "rule-sets.csv")).Length);
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(Path.Combine(output, "results.json")));
        Assert.Equal(11, json.RootElement.GetProperty("rule_sets").GetArrayLength());

        byte[] before = File.ReadAllBytes(Path.Combine(output, "results.md"));
        Run again = Run.Of("tune", study, "-j", "1");
        Assert.Contains("0 A-scans measured", again.Words.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Path.Combine(output, "results.md")));

        Run measured = Run.Of(
            "measure",
            Path.Combine(_folder, "a.h5"),
            "-p",
            Path.Combine(output, "winner.toml"),
            "-o",
            Path.Combine(_folder, "grid.h5")
        );
        Assert.True(measured.Code == ExitCode.Done, measured.Words);
        Assert.Contains("5900.0", measured.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Tune_Check_SaysWhatItWouldDoAndMeasuresNothing()
    {
        Run run = Run.Of("tune", Write(Study), "--check");
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Contains("velocity.value: 5700 m/s to 6100 m/s, 5 values", run.Data, StringComparison.Ordinal);
        Assert.Contains("grid, 10 rule sets", run.Data, StringComparison.Ordinal);
        Assert.All(run.Data.Split('\n'), line => Assert.True(line.Length <= 80, line));
        Assert.False(Directory.Exists(Path.Combine(_folder, "study-results")));
    }

    [Theory]
    [InlineData("gate[1].take", "gate[2].take", "names no entry")]
    [InlineData("\"first\", \"strongest\"", "\"first\", \"strongst\"", "did you mean \"strongest\"")]
    [InlineData("[search]", "[serch]", "did you mean 'search'")]
    public void Tune_Faults_AreToldInOneParagraph(string good, string bad, string words)
    {
        Run run = Run.Of("tune", Write(Study.Replace(good, bad, StringComparison.Ordinal)));
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        string said = run.Words.ReplaceLineEndings(" ");
        Assert.Contains(words, said, StringComparison.Ordinal);
        Assert.Contains("study.toml(", said, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", run.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Tune_NoStudyOrList_SaysHow()
    {
        Assert.Contains("ett tune STUDY.toml", Run.Of("tune").Words, StringComparison.Ordinal);
        Assert.Contains("gate[1].start", Run.Of("tune", "--list").Data, StringComparison.Ordinal);
        Assert.Equal(ExitCode.CouldNotRun, Run.Of("tune", "x.toml", "--list").Code);
        Assert.Contains("x.toml", Run.Of("tune", "x.toml").Words, StringComparison.Ordinal);
    }

    private string Write(string text)
    {
        string path = Path.Combine(_folder, "study.toml");
        File.WriteAllText(path, text);
        return path;
    }
}
