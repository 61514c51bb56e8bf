using System.Globalization;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Studies;
using EchoToThickness.Studies.Resampling;

namespace EchoToThickness.MapStudy;

/// <summary>Counts, by label, of simulated stacks that hold their truth, with the choice off and on; lists every wrong cell for looking at.</summary>
internal sealed class StackStudy
{
    private const uint Uncoupled = (uint)(
        PlantedFailure.DryCoupling | PlantedFailure.Bubble | PlantedFailure.Dropped | PlantedFailure.ClippedTimeBase
    );

    private readonly List<(uint Planted, bool[] Gross, bool[] Missing, CellStatus[] Status)> _cells = [];
    private readonly List<(double Stated, bool Wrong)>[] _stated =
    [
        [],
        [],
    ];
    private readonly List<string> _wrong = [];

    /// <summary>Measures one stack.</summary>
    public void Add(string path, TrainExpectation expect, bool all = false)
    {
        foreach ((string line, IAScanSource source) in StackOpener.Open(path))
        {
            StackInfo info = source.Info;
            double[] walls = Truth(source, "thickness");
            double[] minima = Truth(source, "minimum_thickness");
            var planted = new uint[info.Shape.Cells];
            ((ILabelSource)source).ReadLabels("planted", 0, info.Shape.Scans, planted);
            GridTile[] grids = [Measure(source, MapChoice.Off, expect), Measure(source, MapChoice.SemiGlobal, expect)];
            AccuracyRules rules = new AccuracyRules();
            for (int cell = 0; cell < walls.Length; cell++)
            {
                double wall = walls[cell];
                if (double.IsNaN(wall) || (CellStatus)grids[0].Status[cell] == CellStatus.NotScanned)
                    continue;
                double minimum = minima[cell];
                var gross = new bool[2];
                var missing = new bool[2];
                var status = new CellStatus[2];
                for (int k = 0; k < 2; k++)
                {
                    double read = grids[k][GridLayer.Thickness][cell];
                    status[k] = (CellStatus)grids[k].Status[cell];
                    missing[k] = double.IsNaN(read);
                    gross[k] = !missing[k] && rules.Judge(read, wall, minimum).Gross;
                    double stated = grids[k][GridLayer.WrongEchoProbability][cell];
                    if (!missing[k] && !double.IsNaN(stated))
                        _stated[k].Add((stated, gross[k]));
                }
                string words = $"{Words(grids[0], cell)}\t{Words(grids[1], cell)}";
                _cells.Add((planted[cell], gross, missing, status));
                if (all || gross[0] || gross[1])
                    _wrong.Add(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{Path.GetFileName(path)}\t{line}\t{cell / info.Shape.Beams}\t{cell % info.Shape.Beams}\t{wall * 1e3:0.000}\t{minimum * 1e3:0.000}\t{words}\t{(gross[0] ? "W" : "-")}{(gross[1] ? "W" : "-")}\t{(PlantedFailure)planted[cell]}"
                        )
                    );
            }
            source.Dispose();
        }
    }

    /// <summary>Prints counts and rates.</summary>
    public void Report(string? wrongFile)
    {
        Console.WriteLine(
            "| cells | n | wrong off | wrong on | 95 % of on | no number off | on |\n|---|---|---|---|---|---|---|"
        );
        Row("all", _ => true);
        Row("nothing planted", p => p == 0);
        Row("soundly coupled", p => (p & Uncoupled) == 0);
        Row(
            "soundly coupled, echo heard",
            p => (p & (Uncoupled | (uint)(PlantedFailure.ScatteredPit | PlantedFailure.WeakSignal))) == 0
        );
        foreach (PlantedFailure label in Enum.GetValues<PlantedFailure>())
            if (label != PlantedFailure.None)
                Row(label.ToString(), p => (p & (uint)label) != 0);
        for (int k = 0; k < 2; k++)
            Reliability.Print(k == 0 ? "off" : "semi-global", _stated[k]);
        if (wrongFile is not null)
            File.WriteAllLines(wrongFile, _wrong);
    }

    private void Row(string words, Func<uint, bool> passes)
    {
        var part = _cells.Where(c => passes(c.Planted)).ToList();
        if (part.Count == 0)
            return;
        int[] wrong = [part.Count(c => c.Gross[0]), part.Count(c => c.Gross[1])];
        Interval interval = ExactBinomial.ClopperPearson(wrong[1], part.Count, 0.95);
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"| {words} | {part.Count} | {wrong[0]} ({100.0 * wrong[0] / part.Count:0.000} %) | {wrong[1]} ({100.0 * wrong[1] / part.Count:0.000} %) | {100 * interval.Low:0.000} to {100 * interval.High:0.000} % | {part.Count(c => c.Missing[0])} | {part.Count(c => c.Missing[1])} |"
            )
        );
    }

    private static double[] Truth(IAScanSource source, string layer)
    {
        var metres = new double[source.Info.Shape.Cells];
        ((ITruthSource)source).ReadTruth(layer, 0, source.Info.Shape.Scans, metres);
        return metres;
    }

    private static string Words(GridTile grid, int cell) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{grid[GridLayer.Thickness][cell] * 1e3:0.000}\t{(CellStatus)grid.Status[cell]}\t{(CellNotes)grid.Notes[cell]}\t{grid[GridLayer.SignalToNoise][cell]:0.0}\t{grid[GridLayer.WrongEchoProbability][cell]:0.0000}"
        );

    private static GridTile Measure(IAScanSource source, MapChoice choice, TrainExpectation expect)
    {
        var procedure = new Procedure
        {
            Train = new TrainSettings { Expect = expect },
            Map = new MapSettings { Choice = choice },
            Output = new OutputSettings { Layers = [.. GridLayers.All.Select(GridLayers.NameOf)] },
        };
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, source.Info);
        var sink = new Collected();
        MeasurementEngine.Run(source, plan, plan.CreateHeader("study"), sink, new MeasurementOptions());
        return sink.Grid;
    }
}
