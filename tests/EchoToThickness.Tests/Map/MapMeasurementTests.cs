using EchoToThickness.Grids;
using EchoToThickness.MapStudy;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Engine;
using Xunit;

namespace EchoToThickness.Tests.Map;

/// <summary>Whole maps with planted failures through the engine. The walls are planted, so the expected values are exact.</summary>
public sealed class MapMeasurementTests
{
    private const int Scans = 72;
    private const int Beams = 24;

    private static readonly VelocitySettings Velocity = new() { ValueMetresPerSecond = PlantedMap.Velocity };

    private static PlantedMap Map(double share, Planted kind, NeighbourAxes neighbours = NeighbourAxes.Both) =>
        new(Scans, Beams, 3, share, [30, 24], [kind], neighbours);

    private static MeasurementPlan Plan(
        IAScanSource map,
        MapChoice choice,
        TrainExpectation expect = TrainExpectation.Laminar
    ) =>
        MeasurementPlan.Compile(
            new Procedure
            {
                Pairing = new PairingSettings { Rule = PairingRule.Train },
                Train = new TrainSettings { Expect = expect },
                Map = new MapSettings { Choice = choice },
                Wall = new WallSettings { MinimumMetres = 1.2e-3, MaximumMetres = 25e-3 },
                Velocity = Velocity,
            },
            map.Info
        );

    private static GridTile Measure(
        IAScanSource map,
        MapChoice choice,
        TrainExpectation expect = TrainExpectation.Laminar,
        int threads = 1
    )
    {
        MeasurementPlan plan = Plan(map, choice, expect);
        var sink = new CollectingSink();
        MeasurementEngine.Run(map, plan, plan.CreateHeader("test"), sink, new MeasurementOptions { Threads = threads });
        Assert.All(sink.Arrivals, count => Assert.Equal(1, count));
        return sink.Grid;
    }

    private static (int Cells, int Wrong) Count(PlantedMap map, GridTile grid, Planted kind)
    {
        int cells = 0;
        int wrong = 0;
        for (int cell = 0; cell < Scans * Beams; cell++)
        {
            if (map.KindOf(cell / Beams, cell % Beams) != kind)
                continue;
            cells++;
            double wall = map.WallMetres(cell / Beams, cell % Beams);
            double read = grid[GridLayer.Thickness][cell];
            if (!double.IsNaN(read) && Math.Abs(read - wall) > 0.5e-3)
                wrong++;
        }
        return (cells, wrong);
    }

    [Theory]
    [InlineData(nameof(Planted.Doubled), MapChoice.SemiGlobal)]
    [InlineData(nameof(Planted.Halved), MapChoice.SemiGlobal)]
    [InlineData(nameof(Planted.ModeConverted), MapChoice.SemiGlobal)]
    [InlineData(nameof(Planted.Doubled), MapChoice.BeliefPropagation)]
    public void Run_PlantedFailures_AreAtLeastTenTimesFewer(string planted, MapChoice choice)
    {
        Planted kind = Enum.Parse<Planted>(planted);
        PlantedMap map = Map(0.1, kind);
        (int cells, int alone) = Count(map, Measure(map, MapChoice.Off), kind);
        (_, int together) = Count(map, Measure(map, choice), kind);
        Assert.InRange(cells, 130, 220);
        // The planted failures do mislead the A-scan by itself; the choice over the map leaves a tenth at most.
        Assert.True(alone > 0.3 * cells, $"{alone} of {cells} wrong without the map");
        Assert.True(together <= 0.1 * alone, $"{together} wrong with the map, {alone} without");
    }

    [Theory]
    [InlineData(MapChoice.SemiGlobal, TrainExpectation.Laminar)]
    [InlineData(MapChoice.SemiGlobal, TrainExpectation.Pits)]
    [InlineData(MapChoice.BeliefPropagation, TrainExpectation.Pits)]
    public void Run_DeepPitsOfOneCell_KeepTheirDepth(MapChoice choice, TrainExpectation expect)
    {
        PlantedMap map = Map(0.03, Planted.PitOfOneCell);
        GridTile grid = Measure(map, choice, expect);
        int pits = 0;
        for (int cell = 0; cell < Scans * Beams; cell++)
        {
            (int scan, int beam) = (cell / Beams, cell % Beams);
            if (map.KindOf(scan, beam) != Planted.PitOfOneCell)
                continue;
            pits++;
            double depth = map.AroundMetres(scan, beam) - map.WallMetres(scan, beam);
            double read = map.AroundMetres(scan, beam) - grid[GridLayer.Thickness][cell];
            // The issue's own limit: a one-cell pit loses under 5 % of its depth.
            Assert.InRange(read, 0.95 * depth, 1.05 * depth);
        }
        Assert.InRange(pits, 30, 80);
    }

    [Fact]
    public void Run_LaminationsWithAVisibleWall_AreNamed()
    {
        // Laminations lie in a fiftieth of the squares of eight cells: the first seed with two of them, none near half of the wall, where the
        // wall's own echoes lie over the reflector's (docs/validation.md gives these apart).
        ulong seed = 1;
        PlantedMap map;
        do map = new PlantedMap(48, Beams, seed++, 0.001, [30], [Planted.Lamination]);
        while (!HasTwoLaminationsOffHalf(map));
        GridTile grid = Measure(map, MapChoice.SemiGlobal);
        int cells = 0;
        int named = 0;
        for (int cell = 0; cell < 48 * Beams; cell++)
        {
            if (map.KindOf(cell / Beams, cell % Beams) != Planted.Lamination)
                continue;
            cells++;
            if ((CellStatus)grid.Status[cell] == CellStatus.LaminarReflector)
                named++;
        }
        // The issue's own limit, 95 %; docs/validation.md has the rate over many laminations.
        Assert.True(named >= 0.95 * cells, $"{named} of {cells}");
    }

    private static bool HasTwoLaminationsOffHalf(PlantedMap map)
    {
        int cells = 0;
        for (int cell = 0; cell < 48 * Beams; cell++)
        {
            (int scan, int beam) = (cell / Beams, cell % Beams);
            if (map.KindOf(scan, beam) != Planted.Lamination)
                continue;
            cells++;
            if (Math.Abs(2 * map.LaminationMetres(scan, beam) / map.WallMetres(scan, beam) - 1) < 0.1)
                return false;
        }
        return cells >= 128;
    }

    [Theory]
    [InlineData(MapChoice.SemiGlobal)]
    [InlineData(MapChoice.BeliefPropagation)]
    public void Run_CleanMap_ChangesNoCell(MapChoice choice)
    {
        PlantedMap map = Map(0, Planted.None);
        GridTile alone = Measure(map, MapChoice.Off);
        GridTile together = Measure(map, choice);
        Assert.Equal(alone[GridLayer.Thickness], together[GridLayer.Thickness]);
        Assert.Equal(alone[GridLayer.Uncertainty], together[GridLayer.Uncertainty]);
        Assert.Equal(alone.Status, together.Status);
        Assert.All(together.Notes, notes => Assert.False(((CellNotes)notes).HasFlag(CellNotes.ChosenOverMap)));
        Assert.All(together[GridLayer.WrongEchoProbability], p => Assert.InRange(p, 0, 0.05f));
    }

    [Fact]
    public void Run_CellsDeclaredUnrelated_AreAsAlone()
    {
        PlantedMap map = Map(0.1, Planted.Doubled, NeighbourAxes.None);
        GridTile alone = Measure(map, MapChoice.Off);
        GridTile together = Measure(map, MapChoice.SemiGlobal);
        Assert.Equal(alone[GridLayer.Thickness], together[GridLayer.Thickness]);
    }

    [Theory]
    [InlineData(MapChoice.SemiGlobal)]
    [InlineData(MapChoice.BeliefPropagation)]
    public void Run_AnyThreads_SameBytes(MapChoice choice)
    {
        PlantedMap map = Map(0.1, Planted.ModeConverted);
        GridTile one = Measure(map, choice);
        GridTile three = Measure(map, choice, threads: 3);
        foreach (GridLayer layer in new[] { GridLayer.Thickness, GridLayer.WrongEchoProbability, GridLayer.Margin })
            Assert.Equal(one[layer], three[layer]);
        Assert.Equal(one.Status, three.Status);
        Assert.Equal(one.Notes, three.Notes);
    }

    [Fact]
    public void Explain_CellsAboutASeam_GiveTheGridsResult()
    {
        // The engine cuts this map at line 64; a cell is explained from its own surroundings only.
        PlantedMap map = Map(0.1, Planted.Doubled);
        MeasurementPlan plan = Plan(map, MapChoice.SemiGlobal);
        GridTile grid = Measure(map, MapChoice.SemiGlobal);
        int changed = 0;
        for (int scan = 58; scan < 70; scan++)
        {
            for (int beam = 3; beam < Beams; beam += 6)
            {
                var trace = new MeasurementTrace();
                CellResult cell = MeasurementEngine.Explain(map, plan, scan, beam, trace);
                int at = scan * Beams + beam;
                Assert.Equal(grid[GridLayer.Thickness][at], (float)cell.ThicknessMetres);
                Assert.Equal(grid[GridLayer.WrongEchoProbability][at], (float)cell.WrongEchoProbability);
                Assert.Equal(grid.Notes[at], (ushort)cell.Notes);
                Assert.Contains(trace.Steps, step => step.Stage == "map");
                if (cell.Notes.HasFlag(CellNotes.ChosenOverMap))
                    changed++;
            }
        }
        Assert.True(changed > 0);
    }

    [Fact]
    public void Layers_ChoiceOff_HoldNoProbabilityUnlessAsked()
    {
        PlantedMap map = Map(0, Planted.None);
        Assert.DoesNotContain(GridLayer.WrongEchoProbability, Plan(map, MapChoice.Off).Layers);
        Assert.Contains(GridLayer.WrongEchoProbability, Plan(map, MapChoice.SemiGlobal).Layers);
    }

    [Fact]
    public void Compile_ChoiceWithGates_IsRefused()
    {
        var procedure = new Procedure
        {
            Pairing = new PairingSettings { Rule = PairingRule.Difference },
            Map = new MapSettings { Choice = MapChoice.SemiGlobal },
        };
        ProcedureException error = Assert.Throws<ProcedureException>(() => ProcedureCheck.ThrowIfUnused(procedure));
        Assert.Contains("map.choice", error.Message, StringComparison.Ordinal);
        Assert.Contains("train", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Compile_ChoiceWithAnotherEstimator_IsRefused()
    {
        var procedure = new Procedure
        {
            Pairing = new PairingSettings { Rule = PairingRule.Train },
            Estimation = new EstimationSettings { Method = EstimationMethod.Autocorrelation },
            Map = new MapSettings { Choice = MapChoice.SemiGlobal },
        };
        ProcedureException error = Assert.Throws<ProcedureException>(() => ProcedureCheck.ThrowIfUnused(procedure));
        Assert.Contains("estimation", error.Message, StringComparison.Ordinal);
    }
}
