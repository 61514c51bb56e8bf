namespace EchoToThickness.Statistics.Regions;

/// <summary>Groups of regions whose boxes are close enough to interact.</summary>
internal static class RegionGroups
{
    public static IReadOnlyList<RegionGroup> Of(ThicknessMap map, RegionSettings settings, ThinRegion[] regions)
    {
        var sets = new DisjointSets(regions.Length);
        int[] order = Enumerable.Range(0, regions.Length).OrderBy(k => regions[k].AlongFirst).ToArray();
        InteractionRule rule = settings.Interaction;
        double wall = settings.ReferenceWallMetres;
        double longest = regions.Length == 0 ? 0 : regions.Max(r => r.LengthMetres);
        double widestReach = rule.AlongLimitMetres(wall, longest);
        double smallestScale = map.Axes.AlongScale.ToArray().Min();
        for (int a = 0; a < order.Length; a++)
        for (int b = a + 1; b < order.Length; b++)
        {
            ThinRegion left = regions[order[a]];
            ThinRegion right = regions[order[b]];
            // Ascending first index: nothing further on can be closer to the left one.
            double reference = (right.AlongFirst - left.AlongLast - 1) * map.Axes.AlongPitchMetres;
            if (reference * smallestScale > widestReach && reference > 0)
                break;
            if (Interact(map, rule, wall, left, right))
                sets.Join(order[a], order[b]);
        }
        return Enumerable
            .Range(0, regions.Length)
            .GroupBy(sets.Root)
            .Select(group => Merge(map, group.Select(k => regions[k]).ToArray()))
            .OrderBy(group => group.SmallestWallMetres)
            .ThenBy(group => group.Regions[0])
            .ToArray();
    }

    private static bool Interact(ThicknessMap map, InteractionRule rule, double wall, ThinRegion a, ThinRegion b)
    {
        int rows = Math.Max(a.AlongFirst, b.AlongFirst) - Math.Min(a.AlongLast, b.AlongLast) - 1;
        double scale = Scale(map, a, b);
        double along = Math.Max(0, rows) * map.Axes.AlongPitchMetres * scale;
        double around = Math.Max(0, GapAround(map, a, b)) * map.Axes.AroundPitchMetres;
        return along <= rule.AlongLimitMetres(wall, Math.Min(a.LengthMetres, b.LengthMetres)) * (1 + 1e-9)
            && around <= rule.AroundLimitMetres(wall, Math.Min(a.WidthMetres, b.WidthMetres)) * (1 + 1e-9);
    }

    /// <summary>The smaller of the two length factors at the deepest points: the cautious one.</summary>
    private static double Scale(ThicknessMap map, ThinRegion a, ThinRegion b) =>
        Math.Min(
            map.Axes.AlongScale[a.DeepestCell % map.AroundCount],
            map.Axes.AlongScale[b.DeepestCell % map.AroundCount]
        );

    private static int GapAround(ThicknessMap map, ThinRegion a, ThinRegion b)
    {
        int best = int.MaxValue;
        foreach (int turn in (int[])[-1, 0, 1])
        {
            if (turn != 0 && !map.Axes.WrapsAround)
                continue;
            int shift = turn * map.AroundCount;
            int gap = Math.Max(a.AroundFirst, b.AroundFirst + shift) - Math.Min(a.AroundLast, b.AroundLast + shift) - 1;
            best = Math.Min(best, gap);
        }
        return best;
    }

    private static RegionGroup Merge(ThicknessMap map, ThinRegion[] members)
    {
        int first = members.Min(r => r.AlongFirst);
        int last = members.Max(r => r.AlongLast);
        double scale = members.Max(r =>
            r.LengthMetres / ((r.AlongLast - r.AlongFirst + 1) * map.Axes.AlongPitchMetres)
        );
        return new RegionGroup
        {
            Regions = members.Select(r => r.Number).Order().ToArray(),
            SmallestWallMetres = members.Min(r => r.SmallestWallMetres),
            LengthMetres = (last - first + 1) * map.Axes.AlongPitchMetres * scale,
            WidthMetres = Width(map, members),
            AreaSquareMetres = members.Sum(r => r.AreaSquareMetres),
            VolumeCubicMetres = members.Sum(r => r.VolumeCubicMetres),
        };
    }

    private static double Width(ThicknessMap map, ThinRegion[] members)
    {
        int n = map.AroundCount;
        if (!map.Axes.WrapsAround)
            return (members.Max(r => r.AroundLast) - members.Min(r => r.AroundFirst) + 1) * map.Axes.AroundPitchMetres;
        var used = new bool[n];
        foreach (ThinRegion region in members)
            for (int column = region.AroundFirst; column <= region.AroundLast; column++)
                used[column % n] = true;
        // The girth less the widest stretch without a member.
        int widest = 0;
        int run = 0;
        for (int column = 0; column < 2 * n && run < n; column++)
        {
            run = used[column % n] ? 0 : run + 1;
            widest = Math.Max(widest, run);
        }
        return (n - Math.Min(widest, n)) * map.Axes.AroundPitchMetres;
    }
}
