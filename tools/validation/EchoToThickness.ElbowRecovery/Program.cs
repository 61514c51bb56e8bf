using System.Globalization;
using EchoToThickness.Components;
using EchoToThickness.ElbowRecovery;
using EchoToThickness.EndToEnd.Tests.Recovery;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Storage.Grids;

// Regions, areas and minimum of a measured scene against its truth, as Markdown.
// ett simulate --scenario steps-and-pits --nps 4 -o scan.h5; ett measure scan.h5 -o grid.h5; then
// dotnet run -c Release --project tools/validation/EchoToThickness.ElbowRecovery -- steps-and-pits 4 grid.h5 plan.toml [true pitch in mm, 0.25]
// positions [scans, 20]: how often faults of positions are found, and reported on sound scans.
if (args is ["positions", ..])
{
    PositionStudy.Run(args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 20);
    return 0;
}
if (args.Length < 4)
{
    Console.Error.WriteLine("Usage: SCENARIO NPS GRID PLAN [PITCH_MM], or positions [SCANS]");
    return 2;
}
string nps = args[1];
var scene = SceneText.Read(SceneCatalog.Text(args[0]), args[0], [new("component.nps", nps, "--nps")]).Value;
SceneModel model = SceneModel.Compile(scene);
StatisticsPlan plan = StatisticsPlan.Read(File.ReadAllText(args[3]), args[3]);
double pitch = args.Length > 4 ? double.Parse(args[4], CultureInfo.InvariantCulture) * 1e-3 : 0.25e-3;
StatisticsReport report = StatisticsRun.Run(args[2], plan, null, "study");
using GridFile grid = GridFile.Open(args[2]);
StitchedMap map = StatisticsRun.Map(grid, plan);
RegionMap measured = StatisticsRun.Regions(map.ToThicknessMap(), plan, model.Shape.NominalWallMetres)!;
TrueMap truth = TrueMap.Of(model, map, pitch);
Console.WriteLine("| below mm | true cm2 | measured cm2 | error % | by probability % | at most % |");
Console.WriteLine("|---|---|---|---|---|---|");
foreach ((ThresholdArea t, BelowArea below) in report.Description.Thresholds.Zip(report.BelowAreas))
{
    double area = truth.AreaBelow(t.ThresholdMetres);
    Print(
        $"| {t.ThresholdMetres * 1e3:0.00} | {area * 1e4:0.00} | {t.AreaBelowSquareMetres * 1e4:0.00} | {100 * (t.AreaBelowSquareMetres / area - 1):+0.0;-0.0} | {100 * (below.ExpectedSquareMetres / area - 1):+0.0;-0.0} | {100 * (below.AtMostSquareMetres / area - 1):+0.0;-0.0} |"
    );
}
MinimumWall least = report.Description.Minimum;
Print(
    $"\nWith the chance of a wrong echo ({report.Minimum.WrongEchoChance:0.000}): {report.Minimum.LowerMetres * 1e3:0.000} to {report.Minimum.UpperMetres * 1e3:0.000} mm."
);
Print(
    $"\nMinimum {least.MeasuredMetres * 1e3:0.000} mm, interval {least.LowerMetres * 1e3:0.000} to {least.UpperMetres * 1e3:0.000} mm, truth {truth.Smallest * 1e3:0.000} mm.\n"
);
SpacingStudy.Run(grid, map, model);
RegionMap regions = RegionFinder.Find(
    truth.Map,
    measured.Settings with
    {
        MinimumCells = 1,
        MinimumAreaSquareMetres = 1e-6,
    }
);
(IReadOnlyList<RegionRecovery> all, IReadOnlyList<ThinRegion> wrong) = RegionRecovery.Match(
    truth,
    regions,
    map.Raster,
    measured
);
Console.WriteLine(
    "| true wall mm | length | width | area mm2 | wall error mm | length error | width error | area error % | centroid mm | pieces |"
);
Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|");
foreach (RegionRecovery r in all)
{
    string start = F(
        $"| {r.Truth.SmallestWallMetres * 1e3:0.00} | {r.Truth.LengthMetres * 1e3:0.0} | {r.Truth.WidthMetres * 1e3:0.0} | {r.Truth.AreaSquareMetres * 1e6:0.0} |"
    );
    Console.WriteLine(
        r.Found is null
            ? start + " not found | | | | | 0 |"
            : start
                + F(
                    $" {r.WallError * 1e3:+0.00;-0.00} | {r.LengthError * 1e3:+0.0;-0.0} | {r.WidthError * 1e3:+0.0;-0.0} | {100 * r.AreaError:+0;-0} | {r.CentroidError(map.Raster.Surface) * 1e3:0.0} | {r.Pieces} |"
                )
    );
}
Console.WriteLine("\nMeasured regions without a true one:\n");
foreach (ThinRegion r in wrong)
    Print(
        $"- {r.SmallestWallMetres * 1e3:0.00} mm, {r.AreaSquareMetres * 1e6:0.0} mm2, along {r.CentroidAlongMetres * 1e3:0.0} mm, around {r.CentroidAroundMetres * 1e3:0.0} mm"
    );
return 0;

static string F(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
static void Print(FormattableString text) => Console.WriteLine(F(text));
