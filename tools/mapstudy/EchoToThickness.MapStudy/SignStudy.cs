using EchoToThickness.Evidence;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Studies;

namespace EchoToThickness.MapStudy;

/// <summary>One measured cell: the columns of the model of wrong echoes and whether it was wrong.</summary>
/// <param name="Columns">Columns, the constant one first.</param>
/// <param name="Stated">Probability stated with today's weights.</param>
/// <param name="WrongEcho">Gross, and no wall under the beam is like it.</param>
/// <param name="Gross">Gross by the rules of accuracy, a thicker wall beside a pit included.</param>
internal readonly record struct SignedCell(float[] Columns, double Stated, bool WrongEcho, bool Gross);

/// <summary>Measures a map with the choice off, semi-global and by belief propagation, and keeps the signs of every wall.</summary>
internal sealed class SignStudy
{
    /// <summary>Half of the aperture that a wall may lie under, with a cell's pitch for its edge, metres: 8 mm apertures.</summary>
    private const double BeamRadiusMetres = 5e-3;

    private readonly List<SignedCell>[] _cells =
    [
        [],
        [],
        [],
    ];

    /// <summary>Cells by <see cref="MapChoice"/>.</summary>
    public List<SignedCell> Of(MapChoice choice) => _cells[(int)choice];

    /// <summary>Adds a stack file that holds its truth, or a planted map <c>SCANS:SEED:SHARE</c>.</summary>
    public void Add(string item, TrainExpectation expect)
    {
        if (item.Split(':') is [string scans, string seed, string share])
        {
            AddPlanted(int.Parse(scans), ulong.Parse(seed), double.Parse(share), expect);
            return;
        }
        foreach ((_, IAScanSource source) in StackOpener.Open(item))
        {
            using (source)
                AddScene(source, expect);
        }
    }

    private void AddScene(IAScanSource source, TrainExpectation expect)
    {
        StackInfo info = source.Info;
        int beams = info.Shape.Beams;
        var walls = new double[info.Shape.Cells];
        var minima = new double[info.Shape.Cells];
        var planted = new uint[info.Shape.Cells];
        ((ITruthSource)source).ReadTruth("thickness", 0, info.Shape.Scans, walls);
        ((ITruthSource)source).ReadTruth("minimum_thickness", 0, info.Shape.Scans, minima);
        ((ILabelSource)source).ReadLabels("planted", 0, info.Shape.Scans, planted);
        double[] maxima = Thickest(info, walls);
        var rules = new AccuracyRules();
        Add(
            source,
            new Procedure { Train = new TrainSettings { Expect = expect } },
            (scan, beam, cell) =>
            {
                int at = scan * beams + beam;
                double read = cell.ThicknessMetres;
                if (double.IsNaN(walls[at]))
                    return null;
                // Where pits are expected a lamination is the wall by agreement.
                bool agreed =
                    expect == TrainExpectation.Pits
                    && ((Simulation.Scenes.PlantedFailure)planted[at]).HasFlag(
                        Simulation.Scenes.PlantedFailure.Lamination
                    )
                    && read < walls[at];
                bool gross = !agreed && rules.Judge(read, walls[at], minima[at]).Gross;
                bool beside =
                    read > minima[at]
                    && read < maxima[at] + Math.Min(rules.GrossMetres, rules.GrossFraction * maxima[at]);
                return (gross && !beside, gross);
            }
        );
    }

    private void AddPlanted(int scans, ulong seed, double share, TrainExpectation expect)
    {
        Planted[] kinds =
        [
            .. Enum.GetValues<Planted>().Where(k => k is not (Planted.None or Planted.LaminationOverFaintWall)),
        ];
        using var map = new PlantedMap(scans, 128, seed, share, [34, 28, 22, 16], kinds);
        var procedure = new Procedure
        {
            Train = new TrainSettings { Expect = expect },
            Wall = new WallSettings { MinimumMetres = 1.2e-3, MaximumMetres = 25e-3 },
            Velocity = new VelocitySettings { ValueMetresPerSecond = PlantedMap.Velocity },
        };
        Add(
            map,
            procedure,
            (scan, beam, cell) =>
            {
                Planted kind = map.KindOf(scan, beam);
                double wall = map.WallMetres(scan, beam);
                bool wrong =
                    kind == Planted.Uncoupled
                    || !Study.IsRight(
                        map,
                        kind,
                        expect,
                        scan,
                        beam,
                        wall,
                        cell.ThicknessMetres,
                        cell.Status,
                        cell.ReflectorDepthMetres
                    );
                return (wrong, wrong);
            }
        );
    }

    private void Add(
        IAScanSource source,
        Procedure procedure,
        Func<int, int, CellResult, (bool WrongEcho, bool Gross)?> judge
    )
    {
        StackInfo info = source.Info;
        int beams = info.Shape.Beams;
        Procedure mapped = procedure with
        {
            Map = new MapSettings { Choice = MapChoice.SemiGlobal },
            Output = new OutputSettings { Layers = [.. GridLayers.All.Select(GridLayers.NameOf)] },
        };
        TrainExpectation expect = procedure.Train.Expect;
        MeasurementPlan plan = MeasurementPlan.Compile(mapped, info);
        var measurer = (TrainMeasurer)plan.CreateMeasurer();
        var strip = new MapStrip(info.Shape.Scans, beams);
        strip.Place(0, info.Shape.Scans);
        using IAScanReader reader = source.OpenReader();
        for (int scan = 0; scan < info.Shape.Scans; scan++)
            measurer.Collect(reader.Lend(scan, 1, 0, beams), scan, 1, 0, beams, strip);
        var columns = new double[WrongEchoModel.ColumnCount];
        foreach (MapChoice choice in Enum.GetValues<MapChoice>())
        {
            MapSettings settings = mapped.Map with { Choice = choice };
            new MapChooser(settings, info.Neighbours).Run(strip, 0, info.Shape.Scans);
            for (int scan = 0; scan < info.Shape.Scans; scan++)
            {
                for (int beam = 0; beam < beams; beam++)
                {
                    MapAction action = choice == MapChoice.Off ? MapAction.Keep : measurer.Decide(strip, scan, beam);
                    CellResult own = strip.Own(scan, beam);
                    CellResult cell =
                        action == MapAction.Keep
                            ? own
                            : measurer.Apply(reader.Lend(scan, 1, beam, 1), scan, beam, action, strip);
                    HypothesisSet set = strip.Hypotheses(scan, beam);
                    int hypothesis = cell.Notes.HasFlag(CellNotes.ChosenOverMap) ? strip.Chosen(scan, beam) : set.Own;
                    if (double.IsNaN(cell.ThicknessMetres) || hypothesis < 0)
                        continue;
                    if (judge(scan, beam, cell) is not var (wrongEcho, gross))
                        continue;
                    WrongEchoSigns signs =
                        choice == MapChoice.Off
                            ? WrongEchoSigns.Of(set, cell, strip.Reason(scan, beam))
                            : WrongEchoSigns.Of(strip, scan, beam, hypothesis, cell, settings, info.Neighbours);
                    WrongEchoModel.Columns(signs, columns);
                    Of(choice)
                        .Add(
                            new SignedCell(
                                Array.ConvertAll(columns, c => (float)c),
                                WrongEchoModel.Probability(signs, choice, expect),
                                wrongEcho,
                                gross
                            )
                        );
                }
            }
        }
    }

    /// <summary>Thickest wall within the beam's radius of every cell.</summary>
    private static double[] Thickest(StackInfo info, double[] walls)
    {
        int beams = info.Shape.Beams;
        double pitch = info.ScanPositionsMetres is { Count: > 1 } scans ? Math.Abs(scans[1] - scans[0]) : 1e-3;
        double across = info.IndexPositionsMetres is { Count: > 1 } index ? Math.Abs(index[1] - index[0]) : 1e-3;
        int reachScan = (int)(BeamRadiusMetres / pitch);
        int reachBeam = (int)(BeamRadiusMetres / across);
        var thickest = new double[walls.Length];
        for (int cell = 0; cell < walls.Length; cell++)
        {
            double most = walls[cell];
            for (int ds = -reachScan; ds <= reachScan; ds++)
            {
                for (int db = -reachBeam; db <= reachBeam; db++)
                {
                    int scan = cell / beams + ds;
                    int beam = cell % beams + db;
                    bool inside =
                        scan >= 0
                        && scan < info.Shape.Scans
                        && beam >= 0
                        && beam < beams
                        && Math.Pow(ds * pitch, 2) + Math.Pow(db * across, 2) <= BeamRadiusMetres * BeamRadiusMetres;
                    if (inside && walls[scan * beams + beam] > most)
                        most = walls[scan * beams + beam];
                }
            }
            thickest[cell] = most;
        }
        return thickest;
    }
}
