using System.Security.Cryptography;
using System.Text.Json;
using EchoToThickness.Cli.Tests;
using EchoToThickness.Grids;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Storage.Grids;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>A reviewer's layer with the program: what it changes, that it changes nothing else, and that it can be switched off.</summary>
[Collection(nameof(StepScanTests))]
public sealed class OverruleTests(StepScan scan)
{
    private const string Plan = """
        thresholds = ["4.2 mm", "3.0 mm"]
        [regions]
        below = "4.2 mm"
        [extremes]
        on = false
        [stitch]
        largest_shift = "0 mm"
        """;

    private const string Who = "reason = \"second look\"\nby = \"reviewer 2\"\ntime = \"2026-03-01T14:30Z\"\n";

    [Fact]
    public void Statistics_ExcludedSmallestCell_StatesBothMinimaAndKeepsTheGrid()
    {
        byte[] grid = File.ReadAllBytes(scan.Grid);
        StatisticsReport machine = Report("");
        string overrule = Entry("exclude", machine.MinimumCell!.Scan, machine.MinimumCell.Beam, 1, 1, "");
        StatisticsReport report = Report(overrule);
        Assert.Equal(1, report.OverruleEffect!.Cells);
        Assert.Equal(machine.Description.Minimum.MeasuredMetres, report.OverruleEffect.MachineMinimumMetres);
        Assert.Equal(report.Description.Minimum.MeasuredMetres, report.OverruleEffect.MinimumMetres);
        Assert.True(report.OverruleEffect.MinimumMetres > report.OverruleEffect.MachineMinimumMetres);
        Run page = Statistics(overrule);
        Assert.Equal(0, page.Code);
        Assert.Contains("by the machine", page.Data, StringComparison.Ordinal);
        Assert.Contains("second look (reviewer 2, 2026-03-01T14:30Z)", page.Data, StringComparison.Ordinal);
        Assert.Contains("Bound of unmeasured metal", page.Data, StringComparison.Ordinal);
        Assert.Equal(grid, File.ReadAllBytes(scan.Grid));
    }

    [Fact]
    public void Statistics_MachineOnly_ReplaysTheMachinesResultBitForBit()
    {
        string overrules = scan.Text("replay.toml", Entry("exclude", 60, 20, 10, 10, ""));
        string plan = scan.Text("plan.toml", Plan);
        string[] bytes =
        [
            .. new[]
            {
                Array.Empty<string>(),
                ["--overrules", overrules, "--machine-only"],
                ["--overrules", overrules],
            }.Select(
                (more, k) =>
                {
                    string target = scan.In($"replay{k}.json");
                    Assert.Equal(0, Run.Of(["statistics", scan.Grid, "--plan", plan, "-o", target, .. more]).Code);
                    return File.ReadAllText(target) + File.ReadAllText(Path.ChangeExtension(target, ".md"));
                }
            ),
        ];
        Assert.Equal(bytes[0], bytes[1]);
        Assert.NotEqual(bytes[0], bytes[2]);
    }

    [Fact]
    public void Statistics_ReplacedRegion_MovesTheAreaByItsCells()
    {
        // 6 by 4 cells in the middle of the thinnest step, 1 mm by 1 mm, said to be 5 mm thick.
        StatisticsReport report = Report(Entry("replace", 84, 26, 6, 4, "wall = \"5 mm\"\nuncertainty = \"0.1 mm\"\n"));
        OverruleEffect effect = report.OverruleEffect!;
        Assert.Equal(24, effect.Cells);
        for (int k = 0; k < 2; k++)
        {
            double less = effect.MachineBelowSquareMetres[k] - effect.BelowSquareMetres[k];
            // 24 mm2 of metal on the line; whole cells of the map along (rows of 1 mm centre line, 1.0 to 1.06 mm of metal here).
            Assert.InRange(less, 19e-6, 30e-6);
            Assert.Equal(less, effect.MachineExpectedSquareMetres[k] - effect.ExpectedSquareMetres[k], 3e-6);
        }
    }

    [Fact]
    public void Statistics_ReGatedCell_TakesTheWallThatTheGridKept()
    {
        using GridFile file = GridFile.Open(scan.Grid);
        GridMap map = file.Maps[0];
        float[] wall = map.ReadFloats(GridLayer.Thickness);
        float[] runnerUp = map.ReadFloats(GridLayer.RunnerUpThickness);
        // The smallest of all runners-up; the halved cell that is still smaller is excluded, so that the re-gated one becomes the minimum.
        int cell = Enumerable
            .Range(0, wall.Length)
            .Where(c => runnerUp[c] > 0 && float.IsFinite(wall[c]))
            .MinBy(c => runnerUp[c]);
        StatisticsReport machine = Report("");
        StatisticsReport report = Report(
            Entry("exclude", machine.MinimumCell!.Scan, machine.MinimumCell.Beam, 1, 1, "")
                + Entry("re-gate", cell / map.Beams, cell % map.Beams, 1, 1, "take = \"runner-up\"\n")
        );
        Assert.Equal(2, report.OverruleEffect!.Cells);
        Assert.NotEqual(wall[cell], runnerUp[cell]);
        Assert.Equal(runnerUp[cell], report.Description.Minimum.MeasuredMetres, 1e-9);
        Assert.Equal((cell / map.Beams, cell % map.Beams), (report.MinimumCell!.Scan, report.MinimumCell.Beam));
    }

    [Theory]
    [InlineData(
        "kind = \"exclude\"\nfirst_scan = 1\nfirst_beam = 1\nreason = \" \"\nby = \"a\"\ntime = \"2026-03-01T14:30Z\"",
        "reason"
    )]
    [InlineData(
        "kind = \"exclude\"\nfirst_scan = 1\nfirst_beam = 1\nreason = \"a\"\ntime = \"2026-03-01T14:30Z\"",
        "by"
    )]
    [InlineData(
        "kind = \"exclude\"\nfirst_scan = 1\nfirst_beam = 1\nreason = \"a\"\nby = \"a\"\ntime = \"yesterday\"",
        "time"
    )]
    [InlineData(
        "kind = \"replace\"\nfirst_scan = 1\nfirst_beam = 1\nreason = \"a\"\nby = \"a\"\ntime = \"2026-03-01\"",
        "wall"
    )]
    [InlineData(
        "kind = \"smooth\"\nfirst_scan = 1\nfirst_beam = 1\nreason = \"a\"\nby = \"a\"\ntime = \"2026-03-01\"",
        "kind"
    )]
    [InlineData(
        "kind = \"exclude\"\nfirst_scan = 1\nfirst_beam = 1\nreason = \"a\"\nby = \"a\"\ntime = \"2026-03-01\"\ncolour = 3",
        "colour"
    )]
    [InlineData(
        "kind = \"exclude\"\nfirst_scan = 999999\nfirst_beam = 1\nline = \"line-01\"\nreason = \"a\"\nby = \"a\"\ntime = \"2026-03-01\"",
        "999999"
    )]
    [InlineData(
        "kind = \"exclude\"\nfirst_scan = 1\nfirst_beam = 1\nline = \"line-77\"\nreason = \"a\"\nby = \"a\"\ntime = \"2026-03-01\"",
        "line-77"
    )]
    public void Statistics_FaultyOverrules_AreRefusedByName(string entry, string named)
    {
        Run run = Statistics("[[overrule]]\n" + entry);
        Assert.Equal((2, ""), (run.Code, run.Data));
        Assert.Contains(named, run.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", run.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void OverrulesOfAnotherGrid_AreRefusedByStatisticsAndExport()
    {
        string right = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(scan.Grid)));
        string entry = Entry("exclude", 60, 20, 1, 1, "");
        Assert.Equal(0, Statistics($"grid_sha256 = \"{right}\"\n{entry}").Code);
        string other = scan.Text("other.toml", $"grid_sha256 = \"{new string('0', 64)}\"\n{entry}");
        foreach (
            string[] command in new string[][]
            {
                ["statistics", scan.Grid, "--overrules", other],
                ["export", scan.Grid, "--overrules", other, "-o", scan.In("map.csv")],
            }
        )
        {
            Run run = Run.Of(command);
            Assert.Equal(2, run.Code);
            Assert.Contains("grid_sha256", run.Words, StringComparison.Ordinal);
        }
        Assert.False(File.Exists(scan.In("map.csv")));
    }

    [Fact]
    public void Plan_LineLeftOutAndShifted_IsSaidAndDone()
    {
        string plan = scan.Text(
            "lines.toml",
            Plan
                + "\n[[line]]\nname = \"line-02\"\nuse = false\n[[line]]\nname = \"line-01\"\nscan_offset = \"10 mm\"\n"
        );
        string target = scan.In("lines.json");
        Assert.Equal(0, Run.Of("statistics", scan.Grid, "--plan", plan, "-o", target).Code);
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(target));
        Assert.Contains(
            "'line-02'",
            json.RootElement.GetProperty("cautions")[0].GetString()!,
            StringComparison.Ordinal
        );
        StatisticsReport moved = StatisticsRun.Run(
            scan.Grid,
            StatisticsPlan.Read(File.ReadAllText(plan), plan),
            null,
            "test"
        );
        StatisticsReport written = Report("");
        // 10 mm of track at 82 deg, where a metre of centre line is 1 + 57.15 / 152.4 cos 82 deg = 1.052 m of metal.
        Assert.Equal(10e-3 / 1.0522, moved.BorneOut!.Place.AlongMetres - written.BorneOut!.Place.AlongMetres, 0.01e-3);
        Run wrong = Run.Of("statistics", scan.Grid, "--plan", scan.Text("wrong.toml", "[[line]]\nname = \"line-9\"\n"));
        Assert.Equal(2, wrong.Code);
        Assert.Contains("'line-01', 'line-02'", wrong.Words, StringComparison.Ordinal);
    }

    private StatisticsReport Report(string overrules) =>
        StatisticsRun.Run(
            scan.Grid,
            StatisticsPlan.Read(Plan, "plan.toml"),
            Components.OverruleFile.Read(overrules, "review.toml"),
            "test"
        );

    private Run Statistics(string overrules) =>
        Run.Of(
            "statistics",
            scan.Grid,
            "--plan",
            scan.Text("plan.toml", Plan),
            "--overrules",
            scan.Text("review.toml", overrules)
        );

    private static string Entry(string kind, int scan, int beam, int scans, int beams, string more) =>
        $"[[overrule]]\nkind = \"{kind}\"\nline = \"line-01\"\nfirst_scan = {scan}\nscans = {scans}\nfirst_beam = {beam}\nbeams = {beams}\n{more}{Who}";
}
