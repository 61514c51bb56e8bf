using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Finds how a line has to be shifted, piece by piece, so that its overlap with another line agrees.</summary>
/// <remarks>
/// <para>For every scan position k of the second line and every shift s in steps of its own pitch, the walls of the overlapping beams are compared with
/// the first line at the shifted place: <c>c(k, s) = sum of min(d^2 / (2 σ^2), 4)</c>, divided by 4 because neighbouring beams share their aperture. The path
/// of shifts with the least sum of costs and penalties of change (12 a jump, 5 for a change of one or two steps) is found by dynamic programming
/// (Viterbi 1967). σ is the robust deviation of the differences along the path, found again twice. The penalties are our choice: 12 is a likelihood ratio of
/// e^12, so that noise alone makes no jump on a line of some thousand positions.</para>
/// <para>The same for whole-beam shifts across; the shift across with the least cost a compared value is taken when it gains more than 12.</para>
/// </remarks>
public sealed class StripRegistration
{
    internal const double JumpPenalty = 12;
    private const double StepPenalty = 5;
    private const double Cap = 4;
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
        double sigma = Math.Max(floor, Deviation(0, flat));
        int[] path = flat;
        int best = 0;
        double pathCost = 0,
            flatCost = 0,
            indexGain = 0,
            contrast = 1;
        for (int round = 0; round < 3; round++)
        {
            double[,] zero = Costs(0, sigma, out double compared);
            (path, pathCost) = Path(zero);
            flatCost = CostOf(zero, flat);
            best = 0;
            indexGain = 0;
            double perValue = pathCost / Math.Max(1, compared);
            for (int j = -_across; j <= _across; j++)
            {
                if (j == 0 || Columns(j) < 3)
                    continue;
                double[,] costs = Costs(j, sigma, out double count);
                if (count < compared / 2)
                    continue;
                (int[] other, double cost) = Path(costs);
                double gain = (perValue - cost / count) * Math.Min(count, compared);
                if (gain <= indexGain)
                    continue;
                (best, indexGain, path) = (j, gain, other);
                (pathCost, flatCost) = (cost, CostOf(costs, flat));
            }
            if (indexGain <= JumpPenalty && best != 0)
            {
                best = 0;
                (path, pathCost) = Path(zero);
                flatCost = CostOf(zero, flat);
            }
            contrast = Contrast(best, sigma, path);
            sigma = Math.Max(floor, Deviation(best, path));
        }
        return new StripMatch(
            _numbers.First,
            _numbers.Second,
            Columns(best),
            best * _beamPitch,
            indexGain,
            [.. path.Select(s => s * _pitch)],
            flatCost - pathCost,
            contrast,
            sigma
        );
    }

    private double[,] Costs(int j, double sigma, out double compared)
    {
        int[] beams = _beamOf[j + _across];
        int[] used = [.. Enumerable.Range(0, beams.Length).Where(b => beams[b] >= 0)];
        var costs = new double[_second.Scans, 2 * _reach + 1];
        double scale = 1 / (2 * sigma * sigma);
        double total = 0;
        for (int k = 0; k < _second.Scans; k++)
        for (int s = 0; s <= 2 * _reach; s++)
        {
            int scan = _scanOf[k, s];
            double sum = 0;
            int count = 0;
            if (scan >= 0)
                foreach (int beam in used)
                {
                    double d = Difference(scan, beams[beam], k, beam);
                    if (double.IsNaN(d))
                        continue;
                    sum += Math.Min(d * d * scale, Cap);
                    count++;
                }
            // A row without a value says nothing: it costs what noise costs, so that shifts beyond the end gain nothing.
            costs[k, s] = (count > 0 ? sum / count * used.Length : 0.5 * used.Length) / SharedBeams;
            if (s == _reach && count > 0)
                total += used.Length / SharedBeams;
        }
        compared = total;
        return costs;
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

    private double CostOf(double[,] costs, int[] path)
    {
        double sum = 0;
        for (int k = 0; k < path.Length; k++)
            sum += costs[k, path[k] + _reach];
        return sum;
    }

    private double Contrast(int j, double sigma, int[] path)
    {
        double[,] costs = Costs(j, sigma, out _);
        double right = CostOf(costs, path);
        double wrong = 0;
        int count = 0;
        // Shifts a few steps off: those an evident fault would have.
        foreach (int off in (int[])[-5, -4, -3, 3, 4, 5])
        {
            double sum = 0;
            for (int k = 0; k < path.Length; k++)
                sum += costs[k, Math.Clamp(path[k] + off + _reach, 0, 2 * _reach)];
            wrong += sum;
            count++;
        }
        return right > 0 ? wrong / count / right : 1;
    }

    private double Deviation(int j, int[] path)
    {
        int[] beams = _beamOf[j + _across];
        var values = new List<double>();
        for (int k = 0; k < path.Length; k++)
        {
            int scan = _scanOf[k, path[k] + _reach];
            if (scan < 0)
                continue;
            for (int beam = 0; beam < beams.Length; beam++)
            {
                double d = beams[beam] < 0 ? double.NaN : Difference(scan, beams[beam], k, beam);
                if (!double.IsNaN(d))
                    values.Add(Math.Abs(d));
            }
        }
        return values.Count == 0 ? 0 : 1.4826 * Overlaps.Median(values);
    }

    private double Difference(int scan, int beam, int k, int other)
    {
        int a = scan * _first.Beams + beam;
        int b = k * _second.Beams + other;
        return
            _first.Status[a] == CellStatus.Measured
            && _second.Status[b] == CellStatus.Measured
            && float.IsFinite(_first.ThicknessMetres[a])
            && float.IsFinite(_second.ThicknessMetres[b])
            ? (double)_second.ThicknessMetres[b] - _first.ThicknessMetres[a]
            : double.NaN;
    }

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
