using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;

namespace EchoToThickness.MapStudy;

/// <summary>Counts what became of every cell of a map, by what was planted in it, and of the stated probabilities.</summary>
internal sealed class Study
{
    private readonly Dictionary<string, (List<double> Stated, List<bool> Wrong)> _stated = [];

    /// <summary>Prints one table: right, wrong, refused, named.</summary>
    public void Report(PlantedMap map, GridTile grid, MapChoice choice, TrainExpectation expect)
    {
        Console.WriteLine("| planted | cells | right | doubled | halved | other wrong | no number | found | changed |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|");
        string key = $"{choice}, {expect}";
        if (!_stated.ContainsKey(key))
            _stated[key] = ([], []);
        foreach (Planted kind in Enum.GetValues<Planted>())
            Row(map, grid, kind, expect, _stated[key]);
    }

    private static void Row(
        PlantedMap map,
        GridTile grid,
        Planted kind,
        TrainExpectation expect,
        (List<double> Stated, List<bool> Wrong) stated
    )
    {
        int cells = 0;
        int right = 0;
        int doubled = 0;
        int halved = 0;
        int other = 0;
        int missing = 0;
        int named = 0;
        int changed = 0;
        for (int scan = 0; scan < grid.ScanCount; scan++)
        {
            for (int beam = 0; beam < grid.BeamCount; beam++)
            {
                if (map.KindOf(scan, beam) != kind)
                    continue;
                int cell = scan * grid.BeamCount + beam;
                cells++;
                double wall = map.WallMetres(scan, beam);
                double read = grid[GridLayer.Thickness][cell];
                var status = (CellStatus)grid.Status[cell];
                var notes = (CellNotes)grid.Notes[cell];
                if (notes.HasFlag(CellNotes.ChosenOverMap))
                    changed++;
                double probability = grid[GridLayer.WrongEchoProbability][cell];
                bool isNamed = IsNamed(kind, status, notes, probability);
                if (isNamed)
                    named++;
                if (double.IsNaN(read))
                {
                    missing++;
                    continue;
                }
                bool isRight =
                    kind != Planted.Uncoupled
                    && IsRight(map, kind, expect, scan, beam, wall, read, status, grid[GridLayer.ReflectorDepth][cell]);
                if (!double.IsNaN(probability))
                {
                    stated.Stated.Add(probability);
                    stated.Wrong.Add(!isRight);
                }
                // A right wall that nobody had to change was found as well, except where the name is what is asked for.
                if (isRight && !isNamed && kind is (Planted.Doubled or Planted.Halved or Planted.ModeConverted))
                    named++;
                if (isRight)
                    right++;
                else if (Math.Abs(read / wall - 2) < 0.06)
                    doubled++;
                else if (Math.Abs(2 * read / wall - 1) < 0.06)
                    halved++;
                else
                    other++;
            }
        }
        if (cells > 0)
            Console.WriteLine(
                $"| {kind} | {cells} | {right} | {doubled} | {halved} | {other} | {missing} | {100.0 * named / cells:0.0} % | {changed} |"
            );
    }

    internal static bool IsRight(
        PlantedMap map,
        Planted kind,
        TrainExpectation expect,
        int scan,
        int beam,
        double wall,
        double read,
        CellStatus status,
        double reflector
    )
    {
        double tolerance = Math.Min(0.5e-3, 0.1 * wall);
        if (Math.Abs(read - wall) <= tolerance)
            return true;
        // A pit under the beam's edge named as a reflector before the full wall is said, not missed; a lamination's depth is right where
        // pits are expected.
        if (kind == Planted.PartPit)
            return status == CellStatus.LaminarReflector
                && Math.Abs(reflector - wall) <= tolerance
                && Math.Abs(read - map.AroundMetres(scan, beam)) <= tolerance;
        if (expect != TrainExpectation.Pits)
            return false;
        return kind is Planted.Lamination or Planted.LaminationOverFaintWall
            ? Math.Abs(read - map.LaminationMetres(scan, beam)) <= tolerance
            : kind == Planted.Halved && Math.Abs(2 * read - wall) <= tolerance;
    }

    /// <summary>Changed, refused, or stated to be wrong one time in ten or more; a lamination or a couplant echo must be called by its name.</summary>
    private static bool IsNamed(Planted kind, CellStatus status, CellNotes notes, double probability) =>
        kind switch
        {
            Planted.Lamination or Planted.LaminationOverFaintWall => status == CellStatus.LaminarReflector,
            Planted.CouplantCollision => notes.HasFlag(CellNotes.CouplantMultipleNear)
                || status is not (CellStatus.Measured or CellStatus.LaminarReflector),
            _ => status != CellStatus.Measured || notes.HasFlag(CellNotes.ChosenOverMap) || probability >= 0.1,
        };

    /// <summary>Prints the observed rate of wrong walls by stated probability, in logarithmic bins of at least 400 cells.</summary>
    public void Reliability()
    {
        foreach ((string key, (List<double> stated, List<bool> wrong)) in _stated)
        {
            Console.WriteLine($"\n## stated and observed: {key}, {stated.Count} cells");
            Console.WriteLine($"straight line in log odds through the observed: {Line(stated, wrong)}");
            Console.WriteLine("| stated from | to | cells | mean stated | observed | ratio |");
            Console.WriteLine("|---|---|---|---|---|---|");
            double[] edges = [0, 2e-7, 1e-6, 3e-6, 1e-5, 3e-5, 1e-4, 3e-4, 1e-3, 3e-3, 1e-2, 3e-2, 0.1, 0.3, 0.6, 1.1];
            for (int bin = 0; bin < edges.Length - 1; bin++)
            {
                int count = 0;
                int errors = 0;
                double sum = 0;
                for (int i = 0; i < stated.Count; i++)
                {
                    if (stated[i] < edges[bin] || stated[i] >= edges[bin + 1])
                        continue;
                    count++;
                    sum += stated[i];
                    if (wrong[i])
                        errors++;
                }
                if (count > 0)
                    Console.WriteLine(
                        $"| {edges[bin]:0.#e+0} | {edges[bin + 1]:0.#e+0} | {count} | {sum / count:0.0e+0} | {(double)errors / count:0.0e+0} ({errors}) | {errors / sum:0.00} |"
                    );
            }
        }
    }

    /// <summary>Logistic regression of wrong on the log odds stated, by Newton's method: intercept and slope, 0 and 1 when calibrated.</summary>
    private static string Line(List<double> stated, List<bool> wrong)
    {
        double intercept = -3;
        double slope = 0.3;
        for (int round = 0; round < 100; round++)
        {
            double g0 = 0,
                g1 = 0,
                h00 = 1e-9,
                h01 = 0,
                h11 = 1e-9;
            for (int i = 0; i < stated.Count; i++)
            {
                double p0 = Math.Clamp(stated[i], 1e-9, 1 - 1e-9);
                double x = Math.Log(p0 / (1 - p0));
                double p = 1 / (1 + Math.Exp(-(intercept + slope * x)));
                double residual = (wrong[i] ? 1 : 0) - p;
                double weight = p * (1 - p);
                g0 += residual;
                g1 += residual * x;
                h00 += weight;
                h01 += weight * x;
                h11 += weight * x * x;
            }
            double determinant = h00 * h11 - h01 * h01;
            intercept += 0.2 * (h11 * g0 - h01 * g1) / determinant;
            slope += 0.2 * (h00 * g1 - h01 * g0) / determinant;
        }
        return $"intercept {intercept:0.00}, slope {slope:0.000}";
    }
}
