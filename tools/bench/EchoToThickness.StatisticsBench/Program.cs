// Description, regions and extremes of a map of four million cells: a correlated surface with 400 pits and noise.
// dotnet run -c Release --project tools/bench/EchoToThickness.StatisticsBench -- [cells along = 2000] [cells around = 2000]
using System.Diagnostics;
using System.Globalization;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Extremes;
using EchoToThickness.Statistics.Regions;
using EchoToThickness.Statistics.Spatial;

CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
int along = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 2000;
int around = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 2000;
var model = new VariogramModel(VariogramShape.Exponential, 0.2, 0.8, 2e-3, 0);
double[] field = new FieldSimulator(along, around, 1e-3, 1e-3, model, model).Draw(1, 0).First;
var random = new Random(2);
var wall = new double[field.Length];
for (int k = 0; k < wall.Length; k++)
    wall[k] = 10e-3 + 0.1e-3 * field[k];
for (int pit = 0; pit < 400; pit++)
{
    int row = random.Next(along);
    int column = random.Next(around);
    double depth = 0.3e-3 - 0.5e-3 * Math.Log(1 - random.NextDouble());
    for (int i = Math.Max(0, row - 15); i < Math.Min(along, row + 16); i++)
    for (int j = column - 15; j <= column + 15; j++)
        wall[i * around + (j + around) % around] -=
            depth * Math.Exp(-(Math.Pow(i - row, 2) + Math.Pow(j - column, 2)) / 30);
}
double[] noise = Enumerable.Repeat(20e-6, wall.Length).ToArray();
var map = new ThicknessMap(MapAxes.Even(along, around, 1e-3, 1e-3, true), wall, default, noise);

for (int run = 0; run < 3; run++)
{
    var total = Stopwatch.StartNew();
    TimeSpan cpu = Process.GetCurrentProcess().TotalProcessorTime;
    var part = Stopwatch.StartNew();
    MapDescription description = MapDescriber.Describe(
        map,
        new DescribeSettings { ThresholdsMetres = [9.5e-3, 9e-3, 8e-3] }
    );
    double describe = part.Elapsed.TotalSeconds;
    part.Restart();
    RegionMap regions = RegionFinder.Find(
        map,
        new RegionSettings
        {
            SeedThresholdMetres = 9.4e-3,
            GrowThresholdMetres = 9.6e-3,
            ReferenceWallMetres = 10e-3,
            MinimumCells = 3,
        }
    );
    double find = part.Elapsed.TotalSeconds;
    part.Restart();
    SpatialStructure structure = SpatialAnalyser.Analyse(map);
    double spatial = part.Elapsed.TotalSeconds;
    part.Restart();
    ExtremeAnalysis extremes = ExtremeAnalyser.Analyse(
        map,
        new ExtremeSettings { ReferenceWallMetres = 10e-3, TargetAreaSquareMetres = 40 },
        structure
    );
    double extreme = part.Elapsed.TotalSeconds;
    double cpuSeconds = (Process.GetCurrentProcess().TotalProcessorTime - cpu).TotalSeconds;
    Console.WriteLine(
        $"run {run}: {map.Count} cells, describe {describe:0.00} s, regions {find:0.00} s ({regions.Regions.Count}), spatial {spatial:0.00} s, extremes {extreme:0.00} s ({extremes.Verdict}), all {total.Elapsed.TotalSeconds:0.00} s, CPU {cpuSeconds:0.00} s, minimum {description.Minimum.MeasuredMetres * 1e3:0.000} mm"
    );
    if (run == 2)
        foreach (string reason in extremes.Reasons)
            Console.WriteLine("  " + reason);
}
