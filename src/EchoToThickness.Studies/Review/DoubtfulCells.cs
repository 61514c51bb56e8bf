using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Review;

/// <summary>Finds the cells of a map that a reviewer should look at first: thin and doubtful before thick and doubtful.</summary>
/// <remarks>
/// A cell is compared with the median of the measured cells next to it (up to eight; only along axes on which cells are neighbours). Doubt is the largest of:
/// 0.95 for a doubled or halved wall; 1 - exp(-difference / 1 mm) for a jump; 1 - margin for a close runner-up (what a margin means differs by rule: it also has to be
/// among the lowest of the map); the chance of a wrong echo, but at least
/// 0.3 once it is over its limit; 0.6 for an ambiguous cell. Rank is doubt times 1 + (part of the wall around that is missing, 0 to 1).
/// </remarks>
public static class DoubtfulCells
{
    private const double JumpScaleMetres = 1e-3;

    /// <summary>Finds them.</summary>
    /// <param name="scans">Scan positions.</param>
    /// <param name="beams">Beams.</param>
    /// <param name="thicknessMetres">Shape [scan, beam]; NaN where not measured.</param>
    /// <param name="status">Shape [scan, beam]: values of <see cref="CellStatus"/>.</param>
    /// <param name="margin">Shape [scan, beam]; empty when not known.</param>
    /// <param name="wrongEcho">Shape [scan, beam]: chance of a wrong echo; empty when not known.</param>
    /// <param name="neighbours">Along which axes cells are neighbours.</param>
    /// <param name="rules">Limits.</param>
    /// <returns>Every cell with a reason, by falling rank, then in the order of the map.</returns>
    public static IReadOnlyList<DoubtfulCell> Find(
        int scans,
        int beams,
        ReadOnlySpan<float> thicknessMetres,
        ReadOnlySpan<byte> status,
        ReadOnlySpan<float> margin,
        ReadOnlySpan<float> wrongEcho,
        NeighbourAxes neighbours,
        DoubtRules rules
    )
    {
        ArgumentNullException.ThrowIfNull(rules);
        long cells = (long)scans * beams;
        if (thicknessMetres.Length != cells || status.Length != cells)
            throw new ArgumentException("Walls and statuses must fill the map.", nameof(thicknessMetres));
        var found = new List<DoubtfulCell>();
        rules = rules with { Margin = Math.Min(rules.Margin, Quantile(margin, rules.MarginShare)) };
        Span<float> around = stackalloc float[8];
        for (int scan = 0; scan < scans; scan++)
        {
            for (int beam = 0; beam < beams; beam++)
            {
                int cell = scan * beams + beam;
                int count = Around(scans, beams, thicknessMetres, neighbours, scan, beam, around);
                double median = count >= rules.LeastNeighbours ? Median(around[..count]) : double.NaN;
                DoubtfulCell doubtful = Judge(
                    scan,
                    beam,
                    thicknessMetres[cell],
                    (CellStatus)status[cell],
                    margin.IsEmpty ? double.NaN : margin[cell],
                    wrongEcho.IsEmpty ? double.NaN : wrongEcho[cell],
                    median,
                    rules
                );
                if (doubtful.Reasons != DoubtReason.None)
                    found.Add(doubtful);
            }
        }
        // A stable sort: equal ranks stay in the order of the map.
        return [.. found.OrderByDescending(cell => cell.Rank)];
    }

    private static DoubtfulCell Judge(
        int scan,
        int beam,
        double thickness,
        CellStatus status,
        double margin,
        double wrongEcho,
        double around,
        DoubtRules rules
    )
    {
        DoubtReason reasons = DoubtReason.None;
        double doubt = 0;
        void Add(DoubtReason reason, double much)
        {
            reasons |= reason;
            doubt = Math.Max(doubt, much);
        }
        if (double.IsNaN(thickness))
        {
            if (status == CellStatus.AmbiguousPairing)
                Add(DoubtReason.Ambiguous, 0.6);
            return new DoubtfulCell(scan, beam, reasons, doubt, thickness, around);
        }
        double ratio = thickness / around;
        if (Math.Abs(ratio / 2 - 1) <= rules.RatioFraction)
            Add(DoubtReason.Doubled, 0.95);
        else if (Math.Abs(ratio * 2 - 1) <= rules.RatioFraction)
            Add(DoubtReason.Halved, 0.95);
        double jump = Math.Abs(thickness - around);
        if (jump > rules.JumpMetres)
            Add(DoubtReason.Jump, 1 - Math.Exp(-jump / JumpScaleMetres));
        if (margin < rules.Margin)
            Add(DoubtReason.LowMargin, 1 - Math.Max(0, margin));
        if (wrongEcho > rules.WrongEcho)
            Add(DoubtReason.WrongEcho, Math.Max(0.3, wrongEcho));
        double missing = around > 0 ? Math.Clamp((around - thickness) / around, 0, 1) : 0;
        return new DoubtfulCell(scan, beam, reasons, doubt * (1 + missing), thickness, around);
    }

    private static int Around(
        int scans,
        int beams,
        ReadOnlySpan<float> thickness,
        NeighbourAxes neighbours,
        int scan,
        int beam,
        Span<float> values
    )
    {
        int reachScan = neighbours.HasFlag(NeighbourAxes.Scan) ? 1 : 0;
        int reachBeam = neighbours.HasFlag(NeighbourAxes.Beam) ? 1 : 0;
        // Along one axis only, four cells take the place of eight.
        if (reachScan + reachBeam == 1)
        {
            reachScan *= 2;
            reachBeam *= 2;
        }
        int count = 0;
        for (int s = Math.Max(0, scan - reachScan); s <= Math.Min(scans - 1, scan + reachScan); s++)
        {
            for (int b = Math.Max(0, beam - reachBeam); b <= Math.Min(beams - 1, beam + reachBeam); b++)
            {
                float value = thickness[s * beams + b];
                if ((s != scan || b != beam) && !float.IsNaN(value))
                    values[count++] = value;
            }
        }
        return count;
    }

    /// <summary>The smallest value that no more than a share of the cells lie under; infinite when there are too few to say.</summary>
    private static double Quantile(ReadOnlySpan<float> values, double share)
    {
        float[] sorted = [.. values.ToArray().Where(v => !float.IsNaN(v)).Order()];
        int at = (int)Math.Ceiling(share * sorted.Length);
        return at < sorted.Length ? sorted[at] : double.PositiveInfinity;
    }

    private static double Median(Span<float> values)
    {
        values.Sort();
        int middle = values.Length / 2;
        return values.Length % 2 == 1 ? values[middle] : 0.5 * ((double)values[middle - 1] + values[middle]);
    }
}
