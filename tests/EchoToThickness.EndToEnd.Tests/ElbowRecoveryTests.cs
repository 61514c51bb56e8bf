using System.Text.Json;
using EchoToThickness.Cli.Tests;
using EchoToThickness.Components;
using EchoToThickness.EndToEnd.Tests.Recovery;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Statistics.Regions;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>
/// Simulate, measure, place, state: the numbers against the wall that the scene was made of. Tolerances are those of the issue (area within 3 %, minimum within
/// its interval) or the raster (cells of 1 mm); the whole scenarios are in docs/scenarios, by tools/validation/EchoToThickness.ElbowRecovery.
/// </summary>
[Collection(nameof(StepScanTests))]
public sealed class ElbowRecoveryTests(StepScan steps, PatchScan patch) : IClassFixture<PatchScan>
{
    private const string StepPlan = """
        thresholds = ["5.4 mm", "4.2 mm", "3.0 mm"]
        [regions]
        below = "5.0 mm"
        grow_to = "5.2 mm"
        [extremes]
        on = false
        """;

    private const string PatchPlan = """
        thresholds = ["7 mm", "6.5 mm", "5.5 mm"]
        [regions]
        below = "6.5 mm"
        [extremes]
        on = false
        """;

    [Fact]
    public void Statistics_Steps_AreRegionsOfTrueSizeAndDepth()
    {
        StatisticsPlan plan = StatisticsPlan.Read(StepPlan, "plan.toml");
        StitchedMap map = steps.Map(plan);
        TrueMap truth = TrueMap.Of(steps.Model, map, 0.5e-3);
        RegionMap found = steps.Regions(map, plan);
        RegionMap regions = RegionFinder.Find(truth.Map, found.Settings);
        (IReadOnlyList<RegionRecovery> all, IReadOnlyList<ThinRegion> wrong) = RegionRecovery.Match(
            truth,
            regions,
            map.Raster,
            found
        );
        Assert.Empty(wrong);
        Assert.Equal(3, all.Count);
        Assert.All(all, region => Assert.Equal(1, region.Pieces));

        // The three steps are one region. Its rim is seen half an aperture of 8 mm beyond every edge at most; area by job rule within 5 %.
        RegionRecovery flank = all[0];
        const double aperture = 8e-3;
        Assert.InRange(flank.LengthError, 0, aperture);
        Assert.InRange(flank.WidthError, 0, aperture);
        Assert.Equal(0, flank.AreaError, 0.05);
        Assert.InRange(flank.CentroidError(map.Raster.Surface), 0, 1e-3);
        // 40 % of 6.02 mm. A cell where two walls meet reads thinner than either; what four cells bear out is the step, to velocity (0.5 %) and noise.
        BorneOutWall sure = new BorneOutWalls(map).SmallestOf(found.CellsOf(flank.Found!.Number).ToArray())!;
        Assert.True(flank.WallError < 0);
        Assert.Equal(0.4 * 6.02e-3, sure.WallMetres, 2 * sure.StandardUncertaintyMetres);

        // Pits of 18 and 20 mm, some two apertures wide: found at their place. The depth of their bottom holds to half a millimetre; their sloping sides send
        // the sound away, cells there are lost or read the wall around, so that their area comes out far too small (-43 and -69 % here).
        foreach (RegionRecovery pit in all.Skip(1))
        {
            Assert.Equal(0, pit.WallError, 0.5e-3);
            Assert.InRange(pit.CentroidError(map.Raster.Surface), 0, 2e-3);
            Assert.InRange(pit.AreaError, -0.8, 0);
            // The report sends the reader there: cells of the region lie beside lost ones.
            Assert.True(pit.Found!.OpenCells > 0);
        }
    }

    [Fact]
    public void Statistics_Patch_AreaAndMinimumAreThoseOfTheScene()
    {
        StatisticsPlan plan = StatisticsPlan.Read(PatchPlan, "plan.toml");
        StatisticsReport report = StatisticsRun.Run(patch.Grid, plan, null, "test");
        TrueMap truth = TrueMap.Of(patch.Model, patch.Map(plan), 0.5e-3);
        for (int k = 0; k < report.BelowAreas.Count; k++)
        {
            double area = truth.AreaBelow(report.BelowAreas[k].ThresholdMetres);
            Assert.Equal(area, report.Description.Thresholds[k].AreaBelowSquareMetres, 0.03 * area);
            Assert.Equal(area, report.BelowAreas[k].ExpectedSquareMetres, 0.03 * area);
        }
        Assert.InRange(truth.Smallest, report.Description.Minimum.LowerMetres, report.Description.Minimum.UpperMetres);
        // The four cells beside the smallest wall bear it out: the chance of a wrong echo moves no end of the interval by more than its own uncertainty.
        Assert.True(report.Minimum.IsBorneOut);
        Assert.Equal(report.Description.Minimum.LowerMetres, report.Minimum.LowerMetres);
        Assert.InRange(
            report.Minimum.UpperMetres!.Value - report.Description.Minimum.UpperMetres,
            0,
            2 * report.Description.Minimum.StandardUncertaintyMetres
        );
        Assert.Empty(report.PositionFaults);
    }

    [Fact]
    public void Statistics_Steps_AreaByProbabilityAndBorneOutMinimumHold()
    {
        StatisticsPlan plan = StatisticsPlan.Read(StepPlan, "plan.toml");
        StatisticsReport report = StatisticsRun.Run(steps.Grid, plan, null, "test");
        TrueMap truth = TrueMap.Of(steps.Model, steps.Map(plan), 0.25e-3);
        // 4.2 and 3.0 mm lie between the walls of the steps, where no pit reaches: by probability within 5 %, and never above what either wall allows.
        foreach (int k in (int[])[1, 2])
        {
            BelowArea below = report.BelowAreas[k];
            double area = truth.AreaBelow(below.ThresholdMetres);
            Assert.Equal(area, below.ExpectedSquareMetres, 0.05 * area);
            Assert.InRange(area, below.ExpectedSquareMetres - below.TwoWallsSquareMetres, below.AtMostSquareMetres);
        }
        // One cell halved its wall, 1.21 mm in 2.41 mm: it stays the smallest measured wall, the page says that nobody bears it out.
        Assert.True(report.Description.Minimum.MeasuredMetres < report.BorneOut!.WallMetres);
        Assert.Contains(report.Cautions, c => c.Contains("do not bear it out", StringComparison.Ordinal));
        Assert.InRange(
            truth.Smallest,
            report.BorneOut.WallMetres - 2 * report.BorneOut.StandardUncertaintyMetres,
            report.BorneOut.WallMetres + 2 * report.BorneOut.StandardUncertaintyMetres
        );
        // The interval of that one cell does not hold the truth; the one that takes the chance of a wrong echo into account does, and no tighter end is claimed.
        Assert.True(report.Description.Minimum.UpperMetres < truth.Smallest);
        Assert.False(report.Minimum.IsBorneOut);
        Assert.InRange(truth.Smallest, report.Minimum.LowerMetres, report.Minimum.UpperMetres!.Value);
        Assert.Equal(
            report.BorneOut.WallMetres + 1.959964 * report.BorneOut.StandardUncertaintyMetres,
            report.Minimum.UpperMetres.Value,
            1e-9
        );
        Assert.InRange(report.Minimum.WrongEchoChance!.Value, 0, 0.5);
        Assert.Empty(report.PositionFaults);
    }

    [Fact]
    public void Statistics_FromTheCommandLine_StatesTheSameAndItsUnitsAndDatum()
    {
        string plan = steps.Text("plan.toml", StepPlan);
        Run run = Run.Of("statistics", steps.Grid, "--plan", plan, "-o", steps.In("wall.json"));
        Assert.Equal((0, ""), (run.Code, run.Data));
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(steps.In("wall.json")));
        StatisticsReport report = StatisticsRun.Run(
            steps.Grid,
            StatisticsPlan.Read(StepPlan, "plan.toml"),
            null,
            "test"
        );
        Assert.Equal(report.Regions.Count, json.RootElement.GetProperty("regions").GetArrayLength());
        string text = json.RootElement.GetRawText();
        Assert.Contains("clockwise looking downstream", text, StringComparison.Ordinal);
        string page = File.ReadAllText(steps.In("wall.md"));
        CellSource cell = report.MinimumCell!;
        Assert.Contains($"{cell.Line}, scan {cell.Scan}, beam {cell.Beam}", page, StringComparison.Ordinal);
        // The cell named is the one to look at: the program explains it with the same wall.
        Run explain = Run.Of(
            "explain",
            steps.Stack,
            "--line",
            cell.Line,
            "--scan",
            $"{cell.Scan}",
            "--beam",
            $"{cell.Beam}",
            "-o",
            steps.In("cell.svg")
        );
        Assert.Equal(0, explain.Code);
        Assert.Contains(
            FormattableString.Invariant($"{report.Description.Minimum.MeasuredMetres * 1e3:0.000} mm"),
            explain.Data,
            StringComparison.Ordinal
        );
    }
}
