using System.Text.Json;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Storage.Grids;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

public sealed class MeasureTests(SmallScan scan) : IClassFixture<SmallScan>
{
    [Fact]
    public void Measure_OneTwoAndEightThreads_GiveTheSameBytes()
    {
        byte[][] grids = new[] { "1", "2", "8" }
            .Select(threads =>
            {
                string grid = scan.In($"threads{threads}.h5");
                Run run = Run.Of("measure", scan.Stack, "-o", grid, "--threads", threads, "-q");
                Assert.Equal((0, ""), (run.Code, run.Data));
                return File.ReadAllBytes(grid);
            })
            .ToArray();
        Assert.Equal(grids[0], grids[1]);
        Assert.Equal(grids[0], grids[2]);
    }

    [Fact]
    public void Measure_SmallScan_MeasuresSoundCellsAndRefusesTheRest()
    {
        string grid = scan.In("sound.h5");
        Run run = Run.Of(
            "measure",
            scan.Stack,
            "-o",
            grid,
            "--csv",
            scan.In("sound.csv"),
            "--map",
            scan.In("sound.png")
        );
        Assert.Equal(0, run.Code);
        Assert.Contains("432 cells", run.Words, StringComparison.Ordinal);
        Assert.Contains("velocity", run.Words, StringComparison.Ordinal);

        using GridFile file = GridFile.Open(grid);
        GridMap map = file.Maps.Single();
        CellStatus[] status = map.ReadStatus();
        float[] wall = map.ReadFloats(GridLayer.Thickness);
        Assert.Equal(12, status.Count(s => s == CellStatus.NotScanned)); // 2 x 6 cells
        for (int cell = 0; cell < status.Length; cell++)
            Assert.True(
                status[cell] is not CellStatus.Measured || !float.IsNaN(wall[cell]),
                $"cell {cell} is measured without a number"
            );
        // A sound corner of the plate: 8 mm; noise at 31 dB leaves some micrometres, the velocity is exact here.
        Assert.Equal(8e-3, wall[22 * SmallScan.Beams + 1], 0.02e-3);
        Assert.True(new FileInfo(scan.In("sound.csv")).Length > 0);
        Assert.Equal(SmallScan.Scans * SmallScan.Beams + 1, File.ReadLines(scan.In("sound.csv")).Count());
        Assert.True(new FileInfo(scan.In("sound.png")).Length > 10_000);
        Assert.DoesNotContain(Directory.GetFiles(scan.Folder), f => f.EndsWith(".part", StringComparison.Ordinal));
    }

    [Fact]
    public void Measure_SameStackInAnotherFolder_GivesTheSameBytes()
    {
        string elsewhere = Directory.CreateDirectory(scan.In("elsewhere")).FullName;
        File.Copy(scan.Stack, Path.Combine(elsewhere, "scan.h5"), overwrite: true);
        string[] grids = [scan.In("here.h5"), Path.Combine(elsewhere, "there.h5")];
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", grids[0], "-q").Code);
        Assert.Equal(0, Run.Of("measure", Path.Combine(elsewhere, "scan.h5"), "-o", grids[1], "-q").Code);
        Assert.Equal(File.ReadAllBytes(grids[0]), File.ReadAllBytes(grids[1]));
    }

    [Fact]
    public void Measure_RunLog_HoldsWhatTheGridMustNot()
    {
        string grid = scan.In("log.h5");
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", grid, "-q").Code);
        using JsonDocument log = JsonDocument.Parse(File.ReadAllText(grid + ".log.json"));
        Assert.True(log.RootElement.GetProperty("duration_seconds").GetDouble() > 0);
        Assert.Equal(scan.Stack, log.RootElement.GetProperty("stack").GetString());
        Assert.Matches("^[0-9a-f]{64}$", log.RootElement.GetProperty("stack_sha256").GetString()!);
    }

    [Fact]
    public void Explain_AnyCell_GivesTheNumberOfTheGrid()
    {
        string grid = scan.In("explained.h5");
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", grid, "-q").Code);
        using GridFile file = GridFile.Open(grid);
        float[] wall = file.Maps.Single().ReadFloats(GridLayer.Thickness);
        CellStatus[] status = file.Maps.Single().ReadStatus();
        foreach ((int s, int b) in new[] { (12, 9), (0, 0), (2, 2), (19, 13), (23, 17), (12, 4) })
        {
            string json = scan.In("cell.json");
            Run run = Run.Of([
                "explain",
                scan.Stack,
                "--scan",
                $"{s}",
                "--beam",
                $"{b}",
                "--json",
                json,
                "-o",
                scan.In("cell.svg"),
            ]);
            Assert.Equal(0, run.Code);
            Assert.All(run.Data.Split('\n'), line => Assert.True(line.Length <= 80, line));
            using JsonDocument cell = JsonDocument.Parse(File.ReadAllText(json));
            int index = s * SmallScan.Beams + b;
            Assert.Equal(status[index].ToString(), cell.RootElement.GetProperty("status").GetString());
            JsonElement thickness = cell.RootElement.GetProperty("thickness_metres");
            if (float.IsNaN(wall[index]))
                Assert.Equal(JsonValueKind.Null, thickness.ValueKind);
            else
                Assert.Equal(wall[index], (float)thickness.GetDouble());
        }
    }

    [Fact]
    public void Score_SmallScan_JudgesAndFailsTheCheckThatWasAskedFor()
    {
        string grid = scan.In("score.h5");
        Assert.Equal(0, Run.Of("measure", scan.Stack, "-o", grid, "-q").Code);
        Run fine = Run.Of("score", grid, scan.Stack, "--allow-gross", "0", "--allow-missing", "15");
        Assert.Equal((0, ""), (fine.Code, fine.Words));
        Assert.StartsWith("| stack | n | miss % |", fine.Data, StringComparison.Ordinal);
        Run strict = Run.Of("score", grid, scan.Stack, "--allow-missing", "0", "--no-heading");
        Assert.Equal(1, strict.Code);
        Assert.Contains("Check failed", strict.Words, StringComparison.Ordinal);
        Assert.Single(strict.Data.TrimEnd('\n').Split('\n'));
    }
}
