using System.Diagnostics;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

public sealed class FailureTests(SmallScan scan) : IClassFixture<SmallScan>
{
    [Fact]
    public void Measure_ExistingOtherFile_IsKeptUnlessForced()
    {
        string target = scan.In("notes.h5");
        File.WriteAllText(target, "not a grid");
        Run refused = Run.Of("measure", scan.Stack, "-o", target);
        Refused(refused, "exists and is not a grid", "--force");
        Assert.Equal("not a grid", File.ReadAllText(target));
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", target, "--force", "-q").Code);
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", target, "-q").Code); // a grid is replaced
    }

    [Fact]
    public void GridInPlaceOfAStack_IsCalledAGrid()
    {
        string grid = scan.In("result.h5");
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", grid, "-q").Code);
        Refused(Run.Of("describe", grid), "is a grid of wall thickness", "name the stack");
        Refused(Run.Of("measure", grid, "-o", scan.In("again.h5")), "is a grid of wall thickness", "name the stack");
    }

    [Fact]
    public void Measure_OutputOverTheStack_IsRefused()
    {
        byte[] before = File.ReadAllBytes(scan.Stack);
        Refused(Run.Of("measure", scan.Stack, "-o", scan.Stack, "--force"), "is an input", "another file");
        Assert.Equal(before, File.ReadAllBytes(scan.Stack));
    }

    [Fact]
    public void Measure_Interrupted_LeavesTheEarlierGrid()
    {
        string grid = scan.In("interrupted.h5");
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", grid, "-q").Code);
        byte[] before = File.ReadAllBytes(grid);
        string[] files = Directory.GetFiles(scan.Folder);
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Run run = Run.With(["measure", scan.Stack, "-o", grid], stop.Token);
        Assert.Equal(130, run.Code);
        Assert.Contains("Interrupted", run.Words, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(grid));
        Assert.Equal(files.Order(), Directory.GetFiles(scan.Folder).Order());
    }

    [Theory]
    [InlineData("truncated")]
    [InlineData("not-hdf5")]
    [InlineData("empty")]
    public void Measure_BadStack_SaysWhatWhereAndHow(string kind)
    {
        string bad = scan.In(kind + ".h5");
        byte[] bytes = File.ReadAllBytes(scan.Stack);
        File.WriteAllBytes(
            bad,
            kind switch
            {
                "truncated" => bytes[..(bytes.Length / 2)],
                "not-hdf5" => [.. Enumerable.Repeat((byte)'x', 5000)],
                _ => [],
            }
        );
        string grid = scan.In(kind + "-grid.h5");
        Refused(Run.Of("measure", bad, "-o", grid), kind + ".h5", "To fix:");
        Assert.False(File.Exists(grid));
    }

    [Theory]
    [InlineData("--threads", "0", "from 1 to 1024")]
    [InlineData("--threads", "1,5", "from 1 to 1024")]
    [InlineData("--limit", "6,5", "point for decimals")]
    [InlineData("--map", "map.bmp", ".png")]
    public void Measure_BadOption_IsRefusedBeforeAnyWork(string option, string value, string words)
    {
        string grid = scan.In("options.h5");
        Refused(Run.Of("measure", scan.Stack, "-o", grid, option, value), value, words);
        Assert.False(File.Exists(grid));
    }

    [Fact]
    public void Measure_LimitWithoutMap_IsRefusedBeforeAnyWork()
    {
        string grid = scan.In("limit.h5");
        Refused(Run.Of("measure", scan.Stack, "-o", grid, "--limit", "6"), "--limit", "--map");
        Assert.False(File.Exists(grid));
    }

    [Theory]
    [InlineData("twice.h5")]
    [InlineData("twice.h5.log.json")]
    public void Measure_TwoOutputsOfOneName_IsRefusedBeforeAnyWork(string second)
    {
        string grid = scan.In("twice.h5");
        Refused(Run.Of("measure", scan.Stack, "-o", grid, "--csv", scan.In(second)), second, "asked for twice");
        Assert.False(File.Exists(grid));
    }

    [Fact]
    public void Measure_LaterOutputWithoutFolder_IsRefusedBeforeAnyWork()
    {
        string grid = scan.In("late.h5");
        string csv = Path.Combine(scan.In("nowhere"), "late.csv");
        Refused(Run.Of("measure", scan.Stack, "-o", grid, "--csv", csv), "nowhere", "does not exist");
        Assert.False(File.Exists(grid));
    }

    [Fact]
    public void Measure_MapOfSeveralLines_IsRefusedBeforeAnyWork()
    {
        string layout = scan.In("two-lines.toml");
        File.WriteAllText(
            layout,
            """
            layout_version = 1
            groups = ["/pass1", "/pass2"]
            [samples]
            dataset = "rf"
            axes = ["beam", "single", "scan", "sample"]
            [time]
            sample_rate = { value = "100 MHz" }
            [acquisition]
            form = "rf"
            frequency = { value = "5 MHz" }
            velocity = { value = "5920 m/s" }
            """
        );
        string stack = Path.Combine(Repository.Root, "testdata", "foreign", "lines.h5");
        string grid = scan.In("two-lines.h5");
        Refused(
            Run.Of("measure", stack, "-l", layout, "-o", grid, "--map", scan.In("two-lines.png")),
            "holds 2 scan lines",
            "--line"
        );
        Assert.False(File.Exists(grid));
    }

    [Fact]
    public void Explain_FigureAndJsonOfOneName_IsRefused()
    {
        string figure = scan.In("both.png");
        Refused(
            Run.Of("explain", scan.Stack, "--scan", "0", "--beam", "0", "-o", figure, "--json", figure),
            "both.png",
            "asked for twice"
        );
        Assert.False(File.Exists(figure));
    }

    [Fact]
    public void Demo_FolderWithAnotherScan_KeepsIt()
    {
        string folder = Directory.CreateTempSubdirectory("ett-foreign").FullName;
        try
        {
            string stack = Path.Combine(folder, "scan.h5");
            File.Copy(scan.Stack, stack);
            Refused(Run.Of("demo", "-o", folder), "no demo wrote it", "another folder");
            Assert.Equal(File.ReadAllBytes(scan.Stack), File.ReadAllBytes(stack));
            Assert.Single(Directory.GetFiles(folder));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Measure_KeysThatTheRuleDoesNotUse_AreRefusedWithFileAndKey()
    {
        string procedure = scan.In("unused.toml");
        File.WriteAllText(
            procedure,
            "[[gate]]\nname = \"a\"\nstart = \"1 mm\"\nwidth = \"9 mm\"\n\n[pairing]\nrule = \"train\"\n"
        );
        string grid = scan.In("unused.h5");
        Refused(Run.Of("measure", scan.Stack, "-p", procedure, "-o", grid), "unused.toml", "gate[1]", "uses no gates");
        Refused(Run.Of("procedure", "check", procedure), "unused.toml", "gate[1]", "uses no gates");
        Assert.False(File.Exists(grid));
    }

    [Fact]
    public void Measure_ProcedureThatCannotFitTheStack_IsRefusedByKey()
    {
        string procedure = scan.In("band.toml");
        File.WriteAllText(procedure, "[conditioning]\nband_low = \"3 MHz\"\nband_high = \"60 MHz\"\n");
        string grid = scan.In("band.h5");
        // The stack has 100 MS/s: nothing above 50 MHz exists in it.
        Refused(
            Run.Of("measure", scan.Stack, "-p", procedure, "-o", grid),
            "band.toml",
            "band_high",
            "half the sample rate"
        );
        Assert.False(File.Exists(grid));
    }

    [Fact]
    public void Explain_CellOutside_NamesTheRange() =>
        Refused(Run.Of("explain", scan.Stack, "--scan", "24", "--beam", "0"), "from 0 to 23", "from 0 to 17");

    [Fact]
    public void Process_MissingStack_EndsWithTwoAndTalksOnStandardErrorOnly()
    {
        using Process process = Start("measure", scan.In("missing.h5"), "-o", scan.In("never.h5"));
        string data = process.StandardOutput.ReadToEnd();
        string words = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(2, process.ExitCode);
        Assert.Equal("", data);
        Assert.StartsWith("ett: There is no stack file", words, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", words, StringComparison.Ordinal);
    }

    private static Process Start(params string[] arguments)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "ett.dll");
        return Process.Start(
            new ProcessStartInfo("dotnet", [program, .. arguments])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
    }

    /// <summary>Exit code 2, one paragraph of talk with the words, no data and no trace.</summary>
    private static void Refused(Run run, params string[] words)
    {
        Assert.Equal(2, run.Code);
        Assert.Equal("", run.Data);
        string talk = string.Join(' ', run.Words.Split('\n').Select(l => l.Trim()));
        Assert.All(words, part => Assert.Contains(part, talk, StringComparison.Ordinal));
        Assert.DoesNotContain("   at ", run.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", run.Words, StringComparison.Ordinal);
    }
}
