using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Gathers scanned cells without a wall into connected areas.</summary>
internal static class LostPatches
{
    /// <summary>Fewest cells of a place that is listed.</summary>
    public const int LeastCells = 3;

    /// <summary>Areas of any size; cells join at edges and corners.</summary>
    public static IReadOnlyList<LostPatch> Of(StitchedMap map, double[] radius, EmptyDiscs discs)
    {
        MapRaster raster = map.Raster;
        (int along, int around) = (raster.AlongCount, raster.AroundCount);
        var seen = new bool[raster.Count];
        var patches = new List<LostPatch>();
        var stack = new Stack<int>();
        for (int start = 0; start < raster.Count; start++)
        {
            if (!IsLost(start) || seen[start])
                continue;
            seen[start] = true;
            stack.Push(start);
            var members = new List<int>();
            int middle = start;
            double area = 0;
            var causes = new SortedDictionary<CellStatus, double>();
            while (stack.TryPop(out int at))
            {
                members.Add(at);
                area += map.AreaSquareMetres[at];
                causes[map.Status[at]] = causes.GetValueOrDefault(map.Status[at]) + map.AreaSquareMetres[at];
                if (radius[at] > radius[middle] || (radius[at] == radius[middle] && at < middle))
                    middle = at;
                for (int i = Math.Max(0, at / around - 1); i <= Math.Min(along - 1, at / around + 1); i++)
                for (int step = -1; step <= 1; step++)
                {
                    int j = at % around + step;
                    if (raster.Surface.IsClosed)
                        j = (j + around) % around;
                    else if (j < 0 || j >= around)
                        continue;
                    int next = i * around + j;
                    if (seen[next] || !IsLost(next))
                        continue;
                    seen[next] = true;
                    stack.Push(next);
                }
            }
            patches.Add(
                new LostPatch(
                    members.Count,
                    area,
                    causes.MaxBy(c => c.Value).Key,
                    discs.Largest(members, radius),
                    map.SourceOf(middle)!
                )
            );
        }
        return [.. patches.OrderByDescending(p => p.Disc.DiameterMetres).ThenByDescending(p => p.AreaSquareMetres)];

        bool IsLost(int cell) => double.IsNaN(map.ThicknessMetres[cell]) && map.ContributorCount(cell) > 0;
    }
}
