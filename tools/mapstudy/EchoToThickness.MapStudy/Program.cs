// Wrong walls with and without the choice over the map, on maps with planted failures, and whether the stated probability of a wrong echo
// is the observed one. Usage: dotnet run -c Release [SCANS [SEED [CHOICE ...]]]   (128 beams; 1000 scans = 128,000 cells a map)
// or, on simulated stacks that hold their truth: dotnet run -c Release stacks EXPECT WRONG.tsv STACK.h5 ...
// The stated chance of a wrong echo: dotnet run -c Release fit WrongEchoWeights.cs MAP ... fits its weights, check MAP ... scores them; a
// MAP is a stack with its truth or a planted map, SCANS:SEED:SHARE.
using System.Globalization;
using EchoToThickness.Grids;
using EchoToThickness.MapStudy;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
if (args.Length > 3 && args[0] == "stacks")
{
    var stacks = new StackStudy();
    foreach (string path in args[3..])
        stacks.Add(
            path,
            Enum.Parse<TrainExpectation>(args[1], ignoreCase: true),
            args[2].StartsWith("all", StringComparison.Ordinal)
        );
    stacks.Report(args[2]);
    return 0;
}
if (args.Length > 2 && args[0] == "fit")
{
    Calibration.Fit(args[1], args[2..]);
    return 0;
}
if (args.Length > 1 && args[0] == "check")
{
    Calibration.Check(args[1..]);
    return 0;
}
int scans = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 320;
ulong seed = args.Length > 1 ? ulong.Parse(args[1], CultureInfo.InvariantCulture) : 1;
MapChoice[] choices = args.Length > 2 ? [.. args[2..].Select(Enum.Parse<MapChoice>)] : Enum.GetValues<MapChoice>();
const int beams = 128;
double[] ratios = [34, 28, 22, 16];
Planted[] all =
[
    Planted.Doubled,
    Planted.Halved,
    Planted.ModeConverted,
    Planted.Lamination,
    Planted.Weak,
    Planted.PitOfOneCell,
    Planted.FaintPit,
    Planted.PartPit,
    Planted.CouplantCollision,
    Planted.Uncoupled,
];
var planted = new PlantedMap(scans, beams, seed, 0.15, ratios, all);
var clean = new PlantedMap(scans, beams, seed + 100, 0, ratios, all);
var study = new Study();
foreach (TrainExpectation expect in new[] { TrainExpectation.Laminar, TrainExpectation.Pits })
{
    Console.WriteLine($"\n## planted map, {scans * beams} cells, expect {expect}");
    GridTile? off = null;
    foreach (MapChoice choice in choices)
    {
        GridTile grid = Measure(planted, choice, expect);
        study.Report(planted, grid, choice, expect);
        if (choice == MapChoice.Off)
            off = grid;
        else if (off is not null)
            PairedPits.Print(planted, off, grid, expect);
    }
    Console.WriteLine($"\n## clean map, {scans * beams} cells, expect {expect}");
    foreach (MapChoice choice in choices)
        study.Report(clean, Measure(clean, choice, expect), choice, expect);
}
study.Reliability();
return 0;

static GridTile Measure(PlantedMap map, MapChoice choice, TrainExpectation expect)
{
    var procedure = new Procedure
    {
        Pairing = new PairingSettings { Rule = PairingRule.Train },
        Train = new TrainSettings { Expect = expect },
        Map = new MapSettings { Choice = choice },
        Wall = new WallSettings { MinimumMetres = 1.2e-3, MaximumMetres = 25e-3 },
        Velocity = new VelocitySettings { ValueMetresPerSecond = PlantedMap.Velocity },
        Output = new OutputSettings { Layers = [.. GridLayers.All.Select(GridLayers.NameOf)] },
    };
    MeasurementPlan plan = MeasurementPlan.Compile(procedure, map.Info);
    var sink = new Collected();
    long start = System.Diagnostics.Stopwatch.GetTimestamp();
    MeasurementEngine.Run(map, plan, plan.CreateHeader("study"), sink, new MeasurementOptions());
    Console.WriteLine($"{choice}: {System.Diagnostics.Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s");
    return sink.Grid;
}
