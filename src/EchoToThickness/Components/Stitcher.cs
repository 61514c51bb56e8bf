using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Puts the lines of a scan together on the component.</summary>
/// <remarks>
/// A measured cell belongs to the map cell that holds its centre, so that no measured value is ever lost; a map cell that holds no centre of a line
/// takes that line's cell whose footprint (half a pitch either way) covers the map cell's centre, so that a map finer than the scan has no false
/// gaps. Nothing is interpolated. Cells that were not scanned do not contribute.
/// </remarks>
public static class Stitcher
{
    /// <summary>Puts lines together.</summary>
    /// <param name="surface">The component.</param>
    /// <param name="lines">The lines; their order decides what "last" means.</param>
    /// <param name="settings">How.</param>
    /// <exception cref="ComponentException">A line cannot be placed.</exception>
    public static StitchedMap Stitch(
        ComponentSurface surface,
        IReadOnlyList<LineCells> lines,
        StitchSettings? settings = null
    )
    {
        ArgumentNullException.ThrowIfNull(surface);
        ArgumentNullException.ThrowIfNull(lines);
        settings ??= new StitchSettings();
        if (lines.Count == 0)
            throw new ComponentException("There is no line.", "component map", "name a grid with at least one line.");
        LineGeometry[] places = [.. lines.Select(line => new LineGeometry(surface, line))];
        double Pitch(double given, bool along) =>
            given > 0
                ? given
                : places.Min(p =>
                    (p.Direction == Stacks.LineDirection.Along) == along ? p.ScanPitchMetres : p.BeamPitchMetres
                );
        var raster = new MapRaster(
            surface,
            Pitch(settings.AlongPitchMetres, true),
            Pitch(settings.AroundPitchMetres, false)
        );
        (int[] starts, int[] line, int[] cell) = Gather(raster, lines, places);
        var map = new StitchedMap(raster, settings, lines, starts, line, cell);
        Parallel.For(
            0,
            raster.AlongCount,
            along =>
            {
                for (int around = 0; around < raster.AroundCount; around++)
                {
                    int target = along * raster.AroundCount + around;
                    map.AreaSquareMetres[target] = raster.AreaOf(along, around);
                    Fill(map, target);
                }
            }
        );
        return map;
    }

    private static (int[] Starts, int[] Line, int[] Cell) Gather(
        MapRaster raster,
        IReadOnlyList<LineCells> lines,
        LineGeometry[] places
    )
    {
        var found = new List<(int Target, int Line, int Cell)>();
        var holds = new int[raster.Count];
        for (int l = 0; l < lines.Count; l++)
        {
            LineCells line = lines[l];
            for (int scan = 0; scan < line.Scans; scan++)
            for (int beam = 0; beam < line.Beams; beam++)
            {
                int source = scan * line.Beams + beam;
                if (line.Status[source] == CellStatus.NotScanned)
                    continue;
                int target = raster.CellOf(places[l].PlaceOf(scan, beam));
                if (target < 0)
                    continue;
                holds[target] = l + 1;
                found.Add((target, l, source));
            }
            for (int target = 0; target < raster.Count; target++)
            {
                if (holds[target] == l + 1 || !places[l].TryLocate(raster.PlaceOf(target), out int scan, out int beam))
                    continue;
                int source = scan * line.Beams + beam;
                if (line.Status[source] != CellStatus.NotScanned)
                    found.Add((target, l, source));
            }
        }
        var starts = new int[raster.Count + 1];
        foreach ((int target, _, _) in found)
            starts[target + 1]++;
        for (int k = 0; k < raster.Count; k++)
            starts[k + 1] += starts[k];
        int[] next = [.. starts];
        var line1 = new int[found.Count];
        var cell = new int[found.Count];
        foreach ((int target, int l, int source) in found)
        {
            int at = next[target]++;
            line1[at] = l;
            cell[at] = source;
        }
        return (starts, line1, cell);
    }

    private static void Fill(StitchedMap map, int target)
    {
        int count = map.ContributorCount(target);
        double smallest = double.NaN;
        int chosen = -1;
        CellStatus status = CellStatus.NotScanned;
        for (int k = 0; k < count; k++)
        {
            (int l, int cell) = map.Contributor(target, k);
            LineCells line = map.Lines[l];
            if (!line.IsMeasured(cell))
            {
                if (status == CellStatus.NotScanned)
                    status = line.Status[cell];
                continue;
            }
            double wall = line.ThicknessMetres[cell];
            if (!(line.Wrong(cell) > map.Settings.CredibleWrongEcho) && !(wall >= smallest))
                smallest = wall;
            if (chosen < 0 || Beats(map, target, k, chosen))
                chosen = k;
        }
        map.SmallestMetres[target] = smallest;
        if (chosen < 0)
        {
            map.Status[target] = status;
            map.ThicknessMetres[target] = double.NaN;
            map.UncertaintyMetres[target] = map.NoiseMetres[target] = map.WrongEcho[target] = double.NaN;
            return;
        }
        (int from, int source) = map.Contributor(target, chosen);
        LineCells best = map.Lines[from];
        map.Status[target] = best.Status[source];
        map.ThicknessMetres[target] = best.ThicknessMetres[source];
        map.UncertaintyMetres[target] = best.Uncertainty(source);
        map.NoiseMetres[target] = best.Noise(source);
        map.WrongEcho[target] = best.Wrong(source);
        if (map.Settings.Rule == StitchRule.Weighted)
            Average(map, target, count);
    }

    private static bool Beats(StitchedMap map, int target, int one, int other)
    {
        (int la, int a) = map.Contributor(target, one);
        (int lb, int b) = map.Contributor(target, other);
        (LineCells first, LineCells second) = (map.Lines[la], map.Lines[lb]);
        switch (map.Settings.Rule)
        {
            case StitchRule.Smallest:
                return first.ThicknessMetres[a] < second.ThicknessMetres[b];
            case StitchRule.Last:
                return la > lb || (la == lb && first.ThicknessMetres[a] < second.ThicknessMetres[b]);
            default:
                (double wa, double wb) = (first.Wrong(a), second.Wrong(b));
                if (wa < wb || wa > wb)
                    return wa < wb;
                (double sa, double sb) = (first.Snr(a), second.Snr(b));
                if (sa > sb || sa < sb)
                    return sa > sb;
                return first.Uncertainty(a) < second.Uncertainty(b);
        }
    }

    /// <summary>
    /// Weighted mean, <c>w = 1 / u_n^2</c>; its independent uncertainty <c>1 / sqrt(sum w)</c>, raised by the Birge ratio where the values differ by
    /// more than their uncertainties; the common part stays. Source: JCGM 100:2008, and Birge, Phys. Rev. 40 (1932) 207, for the ratio.
    /// </summary>
    private static void Average(StitchedMap map, int target, int count)
    {
        double weights = 0,
            sum = 0,
            common = 0,
            squares = 0,
            wrong = 0;
        int used = 0;
        for (int k = 0; k < count; k++)
        {
            (int l, int cell) = map.Contributor(target, k);
            LineCells line = map.Lines[l];
            if (!line.IsMeasured(cell))
                continue;
            double noise = Math.Max(line.Noise(cell), 1e-9);
            double weight = 1 / (noise * noise);
            double wall = line.ThicknessMetres[cell];
            weights += weight;
            sum += weight * wall;
            squares += weight * wall * wall;
            double all = line.Uncertainty(cell);
            common += Math.Max(0, all * all - noise * noise);
            wrong = Math.Max(wrong, line.Wrong(cell));
            used++;
        }
        double mean = sum / weights;
        double noiseOfMean = 1 / Math.Sqrt(weights);
        if (used > 1)
            noiseOfMean *= Math.Sqrt(Math.Max(1, (squares - mean * sum) / (used - 1)));
        map.ThicknessMetres[target] = mean;
        map.NoiseMetres[target] = noiseOfMean;
        map.UncertaintyMetres[target] = Math.Sqrt(noiseOfMean * noiseOfMean + common / used);
        map.WrongEcho[target] = wrong;
    }
}
