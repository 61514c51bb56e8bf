namespace EchoToThickness.Statistics.Regions;

/// <summary>Outlines of regions as polygons along the edges of cells.</summary>
public static class RegionOutlines
{
    /// <summary>Polygons of one region: outer edges and the edges of its holes.</summary>
    /// <param name="map">The map.</param>
    /// <param name="regions">Regions of that map.</param>
    /// <param name="number">Number of the region, from 1.</param>
    /// <returns>
    /// Closed polygons without the repeated first corner; straight runs are one edge. Seen with along to the right and around upwards, the
    /// region lies to the left: outer edges run against the clock, holes with it, and the signed areas add up to the region.
    /// </returns>
    public static IReadOnlyList<IReadOnlyList<OutlinePoint>> Of(ThicknessMap map, RegionMap regions, int number)
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(regions);
        ThinRegion region = regions.Regions[number - 1];
        int n = map.AroundCount;
        var inside = new HashSet<(int Along, int Around)>();
        foreach (int cell in regions.CellsOf(number))
        {
            int around = cell % n;
            inside.Add((cell / n, around < region.AroundFirst ? around + n : around));
        }
        // Directed edges between corners (along, around), the region to the left.
        var edges = new SortedDictionary<(int, int), List<(int, int)>>();
        void Add((int, int) from, (int, int) to)
        {
            if (!edges.TryGetValue(from, out List<(int, int)>? ends))
                edges[from] = ends = [];
            ends.Add(to);
        }
        foreach ((int i, int j) in inside)
        {
            if (!inside.Contains((i, j - 1)))
                Add((i, j), (i + 1, j));
            if (!inside.Contains((i + 1, j)))
                Add((i + 1, j), (i + 1, j + 1));
            if (!inside.Contains((i, j + 1)))
                Add((i + 1, j + 1), (i, j + 1));
            if (!inside.Contains((i - 1, j)))
                Add((i, j + 1), (i, j));
        }
        var polygons = new List<IReadOnlyList<OutlinePoint>>();
        while (edges.Count > 0)
        {
            (int, int) start = edges.First().Key;
            List<(int, int)> corners = Follow(edges, start, regions.Settings.JoinAtCorners);
            polygons.Add(corners.Select(c => Metres(map, c)).ToArray());
        }
        return polygons;
    }

    private static List<(int, int)> Follow(
        SortedDictionary<(int, int), List<(int, int)>> edges,
        (int, int) start,
        bool corners
    )
    {
        var polygon = new List<(int, int)>();
        (int, int) at = start;
        (int, int) direction = (0, 0);
        do
        {
            List<(int, int)> ends = edges[at];
            // Where two cells touch at a corner: turn right to keep them together, left to keep them apart.
            int chosen = 0;
            for (int k = 1; k < ends.Count; k++)
            {
                int turn = direction.Item1 * (ends[k].Item2 - at.Item2) - direction.Item2 * (ends[k].Item1 - at.Item1);
                if (corners ? turn < 0 : turn > 0)
                    chosen = k;
            }
            (int, int) next = ends[chosen];
            ends.RemoveAt(chosen);
            if (ends.Count == 0)
                edges.Remove(at);
            (int, int) step = (next.Item1 - at.Item1, next.Item2 - at.Item2);
            if (step != direction)
                polygon.Add(at);
            direction = step;
            at = next;
        } while (at != start);
        // The first corner may lie inside a straight run.
        if (polygon.Count > 2)
        {
            (int, int) first = polygon[0];
            (int, int) second = polygon[1];
            (int, int) into = (Math.Sign(second.Item1 - first.Item1), Math.Sign(second.Item2 - first.Item2));
            if (into == direction)
                polygon.RemoveAt(0);
        }
        return polygon;
    }

    private static OutlinePoint Metres(ThicknessMap map, (int Along, int Around) corner) =>
        new(
            map.Axes.AlongMetres[0] + (corner.Along - 0.5) * map.Axes.AlongPitchMetres,
            map.Axes.AroundMetres[0] + (corner.Around - 0.5) * map.Axes.AroundPitchMetres
        );
}
