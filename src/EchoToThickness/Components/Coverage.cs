using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Works out what of a component was inspected.</summary>
/// <remarks>
/// Discs are free of the centres of measured cells (<see cref="UnsampledDisc"/>). An exact distance transform on the raster (for each unmeasured cell the
/// distance along each column to the nearest measured cell, times the stretch halfway, and the distance around, by Pythagoras) gives a disc that none is
/// smaller than, and says where to search; the search is on the centres themselves, not on the raster. Discs are looked for about places in cells of the
/// map without a wall.
/// </remarks>
public static class Coverage
{
    /// <summary>Coverage of a map.</summary>
    /// <param name="map">The map.</param>
    public static CoverageReport Of(StitchedMap map)
    {
        ArgumentNullException.ThrowIfNull(map);
        MapRaster raster = map.Raster;
        double[] column = Columns(map);
        double[] radius = UnsampledRadii(raster, column);
        var discs = new EmptyDiscs(map, column);
        List<CoverageGap> gaps = Gaps(map, radius, discs);
        IReadOnlyList<LostPatch> lost = LostPatches.Of(map, radius, discs);
        return new CoverageReport(
            Zones(map),
            gaps,
            gaps.Select(g => g.Disc).Concat(lost.Select(p => p.Disc)).MaxBy(d => d.DiameterMetres)
        )
        {
            Lost = [.. lost.Where(p => p.Cells >= LostPatches.LeastCells)],
        };
    }

    private static List<ZoneCoverage> Zones(StitchedMap map)
    {
        MapRaster raster = map.Raster;
        int zones = Enum.GetValues<SurfaceZone>().Length;
        var required = new double[zones + 1];
        var scanned = new double[zones + 1];
        var measured = new double[zones + 1];
        var area = new SortedDictionary<CellStatus, double>[zones + 1];
        var cells = new SortedDictionary<CellStatus, int>[zones + 1];
        for (int z = 0; z <= zones; z++)
            (area[z], cells[z]) = ([], []);
        for (int cell = 0; cell < raster.Count; cell++)
        {
            double size = map.AreaSquareMetres[cell];
            foreach (int z in (int[])[(int)raster.Surface.ZoneOf(raster.PlaceOf(cell)), zones])
            {
                required[z] += size;
                if (map.ContributorCount(cell) > 0)
                    scanned[z] += size;
                if (!double.IsNaN(map.ThicknessMetres[cell]))
                {
                    measured[z] += size;
                    continue;
                }
                area[z][map.Status[cell]] = area[z].GetValueOrDefault(map.Status[cell]) + size;
                cells[z][map.Status[cell]] = cells[z].GetValueOrDefault(map.Status[cell]) + 1;
            }
        }
        return
        [
            .. Enumerable
                .Range(0, zones + 1)
                .Where(z => required[z] > 0)
                .Select(z => new ZoneCoverage(
                    z == zones ? null : (SurfaceZone)z,
                    required[z],
                    scanned[z],
                    measured[z],
                    area[z],
                    cells[z]
                )),
        ];
    }

    /// <summary>Shape [along, around]: cells along to the nearest measured cell or end of the component; 0 on measured cells.</summary>
    private static double[] Columns(StitchedMap map)
    {
        MapRaster raster = map.Raster;
        (int along, int around) = (raster.AlongCount, raster.AroundCount);
        var column = new double[raster.Count];
        for (int j = 0; j < around; j++)
        {
            double last = 0;
            for (int i = 0; i < along; i++)
            {
                int cell = i * around + j;
                last = double.IsNaN(map.ThicknessMetres[cell]) ? last + 1 : 0;
                column[cell] = last;
            }
            last = 0;
            for (int i = along - 1; i >= 0; i--)
            {
                int cell = i * around + j;
                last = double.IsNaN(map.ThicknessMetres[cell]) ? last + 1 : 0;
                column[cell] = Math.Min(column[cell], last);
            }
        }
        return column;
    }

    /// <summary>Shape [along, around]: radius of the largest disc around the cell's centre that touches no measured cell of the map; 0 on measured cells.</summary>
    private static double[] UnsampledRadii(MapRaster raster, double[] column)
    {
        int around = raster.AroundCount;
        var radius = new double[raster.Count];
        Parallel.For(
            0,
            raster.AlongCount,
            i =>
            {
                for (int j = 0; j < around; j++)
                    radius[i * around + j] = Radius(raster, column, i, j);
            }
        );
        return radius;
    }

    private static double Radius(MapRaster raster, double[] column, int i, int j)
    {
        int around = raster.AroundCount;
        if (column[i * around + j] == 0)
            return 0;
        double along = raster.AlongMetres(i);
        double best = double.PositiveInfinity;
        for (int step = 0; ; step++)
        {
            double across = Math.Max(0, step - 0.5) * raster.AroundPitchMetres;
            if (across >= best || (raster.Surface.IsClosed && step > around / 2))
                break;
            bool inside = false;
            foreach (int side in (int[])[j - step, j + step])
            {
                int k = side;
                if (raster.Surface.IsClosed)
                    k = (side % around + around) % around;
                else if (k < 0 || k >= around)
                {
                    // The edge of a plate bounds the disc.
                    best = Math.Min(best, across);
                    continue;
                }
                inside = true;
                double mid = raster.AroundMetres(j) + (side - j) * raster.AroundPitchMetres / 2;
                double away =
                    Math.Max(0, column[i * around + k] - 0.5)
                    * raster.AlongPitchMetres
                    * raster.Surface.Stretch(new SurfacePlace(along, mid));
                best = Math.Min(best, Math.Sqrt(away * away + across * across));
            }
            if (!inside)
                break;
        }
        return best;
    }

    private static List<CoverageGap> Gaps(StitchedMap map, double[] radius, EmptyDiscs discs)
    {
        MapRaster raster = map.Raster;
        (int along, int around) = (raster.AlongCount, raster.AroundCount);
        var seen = new bool[raster.Count];
        var gaps = new List<CoverageGap>();
        var stack = new Stack<(int Cell, int Around)>();
        for (int start = 0; start < raster.Count; start++)
        {
            if (seen[start] || map.ContributorCount(start) > 0)
                continue;
            seen[start] = true;
            stack.Push((start, start % around));
            var members = new List<int>();
            (int i0, int i1, int j0, int j1) = (along, 0, int.MaxValue, int.MinValue);
            double area = 0;
            while (stack.TryPop(out (int Cell, int Around) at))
            {
                members.Add(at.Cell);
                int i = at.Cell / around;
                (i0, i1) = (Math.Min(i0, i), Math.Max(i1, i));
                (j0, j1) = (Math.Min(j0, at.Around), Math.Max(j1, at.Around));
                area += map.AreaSquareMetres[at.Cell];
                if (IsRim(i, at.Cell))
                    continue;
                Visit(i - 1, at.Around);
                Visit(i + 1, at.Around);
                Visit(i, at.Around - 1);
                Visit(i, at.Around + 1);
            }
            bool ring = raster.Surface.IsClosed && j1 - j0 >= around - 1;
            gaps.Add(
                new CoverageGap(
                    members.Count,
                    area,
                    raster.AlongMetres(i0) - raster.AlongPitchMetres / 2,
                    raster.AlongMetres(i1) + raster.AlongPitchMetres / 2,
                    ring ? 0 : raster.AroundMetres(j0) - raster.AroundPitchMetres / 2,
                    ring ? raster.Surface.WidthMetres : raster.AroundMetres(j1) + raster.AroundPitchMetres / 2,
                    LongestRun(raster, members),
                    discs.Largest(members, radius)
                )
            );
        }
        return [.. gaps.OrderByDescending(g => g.Disc.DiameterMetres).ThenByDescending(g => g.AreaSquareMetres)];

        // The last row of the component, where a line ended less than a step before it, does not tie gaps together.
        bool IsRim(int i, int cell) =>
            along > 1
            && (
                (i == 0 && map.ContributorCount(cell + around) > 0)
                || (i == along - 1 && map.ContributorCount(cell - around) > 0)
            );

        void Visit(int i, int j)
        {
            int k = raster.Surface.IsClosed ? (j % around + around) % around : j;
            if (i < 0 || i >= along || k < 0 || k >= around)
                return;
            int cell = i * around + k;
            if (seen[cell] || map.ContributorCount(cell) > 0)
                return;
            seen[cell] = true;
            stack.Push((cell, j));
        }
    }

    private static double LongestRun(MapRaster raster, List<int> members)
    {
        double longest = 0;
        foreach (IGrouping<int, int> column in members.GroupBy(m => m % raster.AroundCount))
        {
            double run = 0;
            int before = -2;
            foreach (int i in column.Select(m => m / raster.AroundCount).Order())
            {
                double length =
                    raster.AlongPitchMetres
                    * raster.Surface.Stretch(new SurfacePlace(raster.AlongMetres(i), raster.AroundMetres(column.Key)));
                run = i == before + 1 ? run + length : length;
                longest = Math.Max(longest, run);
                before = i;
            }
        }
        return longest;
    }
}
