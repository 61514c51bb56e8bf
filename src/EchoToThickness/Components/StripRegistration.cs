using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Finds how a line has to be shifted, piece by piece, so that its overlap with another line agrees.</summary>
/// <remarks>
/// <para>For every scan position k of the second line and every shift s in steps of its own pitch, the walls of the overlapping beams are compared with
/// the first line at the shifted place. With d the differences of a row and m their median, <c>c(k, s) = (N / 4) mean of min((d - m)^2 / (2 σ^2), 4) +
/// min(m^2 / (2 (τ^2 + 4 σ^2 / n)), 4)</c>, at most 6, for N beams that overlap as written: neighbouring beams share their aperture (hence the division by 4), and whatever reaches all
/// beams of a row alike, such as an echo of the couplant on the back wall, is an error of one row with the deviation τ and no proof of a shift.
/// σ and τ are robust deviations along the path, found again twice; all is divided by the rows that stand for one independent row, from the correlation of
/// successive m.</para>
/// <para>Three explanations compete by cost and penalty: no shift; an even drift with an offset (20); shifts that jump (20 a jump, 10
/// for a change of one or two steps), the cheapest path of which is found by dynamic programming (Viterbi 1967). The penalties are log likelihood
/// ratios and our choice: measured on clean scans (tests and docs/component-maps.md).</para>
/// <para>The same for whole-beam shifts across; the shift across with the least cost a compared row is taken when it gains more than 20.</para>
/// </remarks>
public sealed class StripRegistration
{
    internal const double JumpPenalty = 20;
    private const double StepPenalty = 10;
    private const double Cap = 4;
    private const double RowCap = 6;
    private const double SharedBeams = 4;
    private readonly LineCells _first;
    private readonly LineCells _second;
    private readonly int[,] _scanOf;
    private readonly int[][] _beamOf;
    private readonly int _reach;
    private readonly int _across;
    private readonly double _pitch;
    private readonly double _beamPitch;
    private readonly (int First, int Second) _numbers;
    private readonly double[] _track;
    private readonly double[] _firstWalls;
    private readonly double[] _walls;

    private readonly record struct Spread(double Within, double Common, double Share);

    private readonly record struct Fit(int[] Path, double Cost, double FlatCost, double DriftSteps);

    private StripRegistration(
        IReadOnlyList<LineCells> lines,
        LineGeometry[] places,
        int first,
        int second,
        double largestShiftMetres,
        bool reversed
    )
    {
        _numbers = (first, second);
        _first = lines[first];
        _second = lines[second];
        LineGeometry a = places[first];
        LineGeometry b = places[second];
        _pitch = b.ScanPitchMetres;
        _track = [.. _second.ScanPositionsMetres];
        _firstWalls = Walls(_first);
        _walls = Walls(_second);
        _beamPitch = b.BeamPitchMetres;
        _reach = Math.Max(1, (int)Math.Round(largestShiftMetres / _pitch));
        _across = Math.Max(1, (int)Math.Round(largestShiftMetres / _beamPitch));
        _beamOf = new int[2 * _across + 1][];
        int middle = _second.Scans / 2;
        for (int j = -_across; j <= _across; j++)
        {
            int[] beams = new int[_second.Beams];
            for (int beam = 0; beam < beams.Length; beam++)
                beams[beam] = a.TryLocateAcross(b.PlaceOf(middle, beam, 0, j * _beamPitch));
            _beamOf[j + _across] = beams;
        }
        _scanOf = new int[_second.Scans, 2 * _reach + 1];
        int column = _second.Beams / 2;
        for (int k = 0; k < _second.Scans; k++)
        for (int s = -_reach; s <= _reach; s++)
            _scanOf[k, s + _reach] = a.TryLocateAlong(
                b.PlaceOf(reversed ? _second.Scans - 1 - k : k, column, s * _pitch, 0)
            );
    }

    /// <summary>Compares two lines.</summary>
    /// <param name="lines">All lines.</param>
    /// <param name="places">Their places.</param>
    /// <param name="first">First line.</param>
    /// <param name="second">Second line.</param>
    /// <param name="largestShiftMetres">Largest shift looked for, either way.</param>
    /// <param name="reversed">Whether the second line is taken against its written direction.</param>
    /// <returns>Null where the lines share fewer than three beams or scan in different directions.</returns>
    public static StripMatch? Match(
        IReadOnlyList<LineCells> lines,
        LineGeometry[] places,
        int first,
        int second,
        double largestShiftMetres,
        bool reversed = false
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(places);
        if (places[first].Direction != places[second].Direction)
            return null;
        var strips = new StripRegistration(lines, places, first, second, largestShiftMetres, reversed);
        return strips.Columns(0) < 3 ? null : strips.Run();
    }

    private int Columns(int j) => _beamOf[j + _across].Count(beam => beam >= 0);

    private StripMatch Run()
    {
        double floor = Math.Sqrt(2) * Math.Max(1e-6, NoiseOf(_first) + NoiseOf(_second)) / 2;
        var flat = new int[_second.Scans];
        Spread spread = SpreadOf(0, flat, floor) with { Share = 1 };
        Fit best = default;
        int across = 0;
        double indexGain = 0,
            contrast = 1,
            telling = 0;
        for (int round = 0; round < 3; round++)
        {
            double[,] zero = Costs(0, spread, out double compared);
            best = Best(zero, drifts: true);
            across = 0;
            indexGain = 0;
            double perValue = best.Cost / Math.Max(1, compared);
            for (int j = -_across; j <= _across; j++)
            {
                // The first round only learns how much lines differ as written.
                if (j == 0 || round == 0 || Columns(j) < 3)
                    continue;
                double[,] costs = Costs(j, spread, out double count);
                if (count < compared / 2)
                    continue;
                Fit other = Best(costs, drifts: false);
                double gain = (perValue - other.Cost / count) * Math.Min(count, compared);
                if (gain <= indexGain)
                    continue;
                (across, indexGain, best) = (j, gain, other);
            }
            if (indexGain <= JumpPenalty && across != 0)
            {
                across = 0;
                indexGain = 0;
                best = Best(zero, drifts: true);
            }
            else if (across != 0)
                best = Best(Costs(across, spread, out _), drifts: true);
            double[,] final = Costs(across, spread, out _);
            contrast = Contrast(final, best.Path);
            double right = CostOf(final, best.Path);
            telling = Math.Min(CostOf(final, best.Path, -3), CostOf(final, best.Path, 3)) - right;
            spread = SpreadOf(across, best.Path, floor);
        }
        return new StripMatch(
            _numbers.First,
            _numbers.Second,
            Columns(across),
            across * _beamPitch,
            indexGain,
            [.. best.Path.Select(s => s * _pitch)],
            best.FlatCost - best.Cost,
            contrast,
            Math.Sqrt(spread.Within * spread.Within + spread.Common * spread.Common)
        )
        {
            DriftRatio = best.DriftSteps * _pitch / Math.Max(_pitch, Math.Abs(_track[^1] - _track[0])),
            RowCommonMetres = spread.Common,
            ShiftEvidence = telling,
        };
    }

    /// <summary>Along one shift across: none, an offset that drifts evenly (asked for), or shifts that jump, whichever costs least with its penalties.</summary>
    private Fit Best(double[,] costs, bool drifts)
    {
        var flat = new int[_second.Scans];
        double flatCost = CostOf(costs, flat);
        Fit best = new(flat, flatCost, flatCost, 0);
        (int[] path, double pathCost) = Path(costs);
        if (pathCost < best.Cost)
            best = new Fit(path, pathCost, flatCost, 0);
        if (!drifts)
            return best;
        Fit line = Line(costs) with { FlatCost = flatCost };
        return line.Cost + JumpPenalty < best.Cost ? line with { Cost = line.Cost + JumpPenalty } : best;
    }

    /// <summary>The straight path of least cost that drifts by a step or more over the line: offsets in quarters, drifts in halves of a step.</summary>
    private Fit Line(double[,] costs)
    {
        int rows = _second.Scans;
        double length = _track[^1] - _track[0];
        var share = new double[rows];
        for (int k = 0; k < rows; k++)
            share[k] = length == 0 ? 0 : (_track[k] - _track[0]) / length;
        (double Cost, double Offset, double Drift) best = (double.PositiveInfinity, 0, 0);
        for (double drift = -_reach; drift <= _reach; drift += 0.5)
        for (double offset = -_reach; offset <= _reach; offset += 0.25)
        {
            if (Math.Abs(offset + drift) > _reach || Math.Abs(drift) < 1)
                continue;
            double cost = 0;
            for (int k = 0; k < rows && cost < best.Cost; k++)
                cost += costs[k, (int)Math.Round(offset + drift * share[k]) + _reach];
            if (cost < best.Cost)
                best = (cost, offset, drift);
        }
        return new Fit([.. share.Select(x => (int)Math.Round(best.Offset + best.Drift * x))], best.Cost, 0, best.Drift);
    }

    /// <summary>
    /// Shape [scan, shift]. A row costs what its beams differ from their common difference, and that common difference by itself; a row without a value at
    /// a shift, beyond the end of the other line, costs what it costs unshifted and so says nothing.
    /// </summary>
    private double[,] Costs(int j, Spread spread, out double compared)
    {
        int[] beams = _beamOf[j + _across];
        int[] used = [.. Enumerable.Range(0, beams.Length).Where(b => beams[b] >= 0)];
        var costs = new double[_second.Scans, 2 * _reach + 1];
        var differences = new double[used.Length];
        // As many beams as overlap where the lines are written, so that overlaps of different width under a shift across weigh alike.
        double weight = Columns(0) / SharedBeams;
        double total = 0;
        for (int k = 0; k < _second.Scans; k++)
        {
            for (int s = 0; s <= 2 * _reach; s++)
            {
                int count = Row(_scanOf[k, s], k, used, beams, differences);
                costs[k, s] = count == 0 ? double.NaN : RowCost(differences.AsSpan(0, count), weight, spread);
            }
            double unshifted = costs[k, _reach];
            if (!double.IsNaN(unshifted))
                total++;
            for (int s = 0; s <= 2 * _reach; s++)
                if (double.IsNaN(costs[k, s]))
                    costs[k, s] = double.IsNaN(unshifted) ? 0 : unshifted;
        }
        compared = total;
        return costs;
    }

    private int Row(int scan, int k, int[] used, int[] beams, double[] differences)
    {
        int count = 0;
        if (scan >= 0)
            foreach (int beam in used)
            {
                double d = Difference(scan, beams[beam], k, beam);
                if (!double.IsNaN(d))
                    differences[count++] = d;
            }
        return count;
    }

    private static double RowCost(Span<double> differences, double weight, Spread spread)
    {
        double common = MedianOf(differences);
        double scale = 1 / (2 * spread.Within * spread.Within);
        double sum = 0;
        foreach (double d in differences)
            sum += Math.Min((d - common) * (d - common) * scale, Cap);
        double variance =
            spread.Common * spread.Common + spread.Within * spread.Within * SharedBeams / differences.Length;
        double cost = sum / differences.Length * weight + Math.Min(common * common / (2 * variance), Cap);
        return Math.Min(cost, RowCap) / spread.Share;
    }

    private static double MedianOf(Span<double> values)
    {
        values.Sort();
        int half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }

    private (int[] Path, double Cost) Path(double[,] costs)
    {
        int states = 2 * _reach + 1;
        var best = new double[states];
        var next = new double[states];
        var from = new short[_second.Scans, states];
        for (int s = 0; s < states; s++)
            best[s] = costs[0, s] + (s == _reach ? 0 : JumpPenalty);
        for (int k = 1; k < _second.Scans; k++)
        {
            int least = 0;
            for (int s = 1; s < states; s++)
                if (best[s] < best[least])
                    least = s;
            for (int s = 0; s < states; s++)
            {
                double cost = best[s];
                int source = s;
                for (int near = Math.Max(0, s - 2); near <= Math.Min(states - 1, s + 2); near++)
                    if (best[near] + StepPenalty < cost)
                        (cost, source) = (best[near] + StepPenalty, near);
                if (best[least] + JumpPenalty < cost)
                    (cost, source) = (best[least] + JumpPenalty, least);
                next[s] = cost + costs[k, s];
                from[k, s] = (short)source;
            }
            (best, next) = (next, best);
        }
        int at = Array.IndexOf(best, best.Min());
        double total = best[at];
        var path = new int[_second.Scans];
        for (int k = _second.Scans - 1; k >= 0; k--)
        {
            path[k] = at - _reach;
            at = from[k, at];
        }
        return (path, total);
    }

    private double CostOf(double[,] costs, int[] path, int off = 0)
    {
        double sum = 0;
        for (int k = 0; k < path.Length; k++)
            sum += costs[k, Math.Clamp(path[k] + off + _reach, 0, 2 * _reach)];
        return sum;
    }

    private double Contrast(double[,] costs, int[] path)
    {
        double right = CostOf(costs, path);
        // Shifts a few steps off: those an evident fault would have.
        double wrong = ((int[])[-5, -4, -3, 3, 4, 5]).Average(off => CostOf(costs, path, off));
        return right > 0 ? wrong / right : 1;
    }

    /// <summary>Robust deviations along a path: of the beams of a row from their common difference, and of that common difference from row to row.</summary>
    private Spread SpreadOf(int j, int[] path, double floor)
    {
        int[] beams = _beamOf[j + _across];
        int[] used = [.. Enumerable.Range(0, beams.Length).Where(b => beams[b] >= 0)];
        var differences = new double[used.Length];
        var within = new List<double>();
        var common = new List<double>();
        for (int k = 0; k < path.Length; k++)
        {
            int count = Row(_scanOf[k, path[k] + _reach], k, used, beams, differences);
            if (count == 0)
                continue;
            double middle = MedianOf(differences.AsSpan(0, count));
            common.Add(middle);
            for (int i = 0; i < count; i++)
                within.Add(Math.Abs(differences[i] - middle));
        }
        double deviation = Math.Max(floor, within.Count == 0 ? 0 : 1.4826 * Overlaps.Median(within));
        double rows = common.Count == 0 ? 0 : 1.4826 * Overlaps.Median([.. common.Select(Math.Abs)]);
        double ofNoise = deviation * deviation * SharedBeams / Math.Max(1, used.Length);
        return new Spread(deviation, Math.Sqrt(Math.Max(0, rows * rows - ofNoise)), ShareOf(common, 3 * rows));
    }

    /// <summary>Rows that stand for one independent row: (1 + r) / (1 - r) of a first-order process with the correlation r of successive rows.</summary>
    private static double ShareOf(List<double> common, double limit)
    {
        double product = 0,
            square = 0;
        for (int k = 1; k < common.Count; k++)
        {
            double a = Math.Clamp(common[k - 1], -limit, limit);
            double b = Math.Clamp(common[k], -limit, limit);
            product += a * b;
            square += (a * a + b * b) / 2;
        }
        double r = square > 0 ? Math.Clamp(product / square, 0, 0.8) : 0;
        return (1 + r) / (1 - r);
    }

    private double Difference(int scan, int beam, int k, int other) =>
        _walls[k * _second.Beams + other] - _firstWalls[scan * _first.Beams + beam];

    /// <summary>Walls that a comparison may use; laminar reflectors, whose wall lies behind something, may not.</summary>
    private static double[] Walls(LineCells line) =>
        [
            .. line.ThicknessMetres.Select(
                (wall, cell) => line.Status[cell] == CellStatus.Measured && float.IsFinite(wall) ? wall : double.NaN
            ),
        ];

    private static double NoiseOf(LineCells line)
    {
        double sum = 0;
        int count = 0;
        for (int cell = 0; cell < line.Status.Length; cell++)
            if (line.IsMeasured(cell))
            {
                sum += line.Noise(cell);
                count++;
            }
        return count == 0 ? 0 : sum / count;
    }
}
