namespace EchoToThickness.Statistics.Regions;

/// <summary>Splits regions into basins.</summary>
internal static class Watershed
{
    public static (int[] Labels, int Count) Split(ThicknessMap map, RegionMap regions, double saddleMetres)
    {
        var labels = new int[map.Count];
        int count = 0;
        for (int number = 1; number <= regions.Regions.Count; number++)
            count = Flood(map, regions, number, saddleMetres, labels, count);
        return (labels, count);
    }

    private static int Flood(ThicknessMap map, RegionMap regions, int number, double saddle, int[] labels, int count)
    {
        int[] cells = regions.CellsOf(number).ToArray();
        double[] walls = new double[cells.Length];
        for (int k = 0; k < cells.Length; k++)
            walls[k] = map.ThicknessMetres[cells[k]];
        // Stable: equal walls keep the order of the cells.
        int[] order = Enumerable.Range(0, cells.Length).OrderBy(k => walls[k]).ToArray();
        var basinOf = new Dictionary<int, int>(cells.Length);
        var basins = new DisjointSets(cells.Length);
        var deepest = new List<double>();
        Span<int> near = stackalloc int[8];
        foreach (int k in order)
        {
            int own = -1;
            double thinnest = double.PositiveInfinity;
            int found = Neighbours(map, cells[k], regions.Settings.JoinAtCorners, near);
            for (int j = 0; j < found; j++)
                if (basinOf.TryGetValue(near[j], out int basin) && map.ThicknessMetres[near[j]] < thinnest)
                {
                    thinnest = map.ThicknessMetres[near[j]];
                    own = basins.Root(basin);
                }
            if (own < 0)
            {
                own = deepest.Count;
                deepest.Add(walls[k]);
            }
            for (int j = 0; j < found; j++)
            {
                if (!basinOf.TryGetValue(near[j], out int basin))
                    continue;
                int other = basins.Root(basin);
                own = basins.Root(own);
                // A root keeps the smallest wall of all it took in: basins are made from the thinnest up.
                if (other != own && walls[k] - Math.Max(deepest[other], deepest[own]) < saddle)
                    basins.Join(other, own);
            }
            basinOf[cells[k]] = basins.Root(own);
        }
        var renumbered = new Dictionary<int, int>();
        foreach (int cell in cells)
        {
            int root = basins.Root(basinOf[cell]);
            if (!renumbered.TryGetValue(root, out int label))
                renumbered[root] = label = ++count;
            labels[cell] = label;
        }
        return count;
    }

    private static int Neighbours(ThicknessMap map, int cell, bool corners, Span<int> near)
    {
        int n = map.AroundCount;
        int along = cell / n;
        int around = cell % n;
        int found = 0;
        for (int i = Math.Max(0, along - 1); i <= Math.Min(map.AlongCount - 1, along + 1); i++)
        for (int offset = -1; offset <= 1; offset++)
        {
            int j = around + offset;
            if (map.Axes.WrapsAround)
                j = (j + n) % n;
            bool isCorner = i != along && offset != 0;
            if (j < 0 || j >= n || (isCorner && !corners) || i * n + j == cell)
                continue;
            near[found++] = i * n + j;
        }
        return found;
    }
}
