using System.Globalization;

namespace EchoToThickness.Statistics.Regions;

/// <summary>Finds connected thin areas.</summary>
public static class RegionFinder
{
    /// <summary>Finds the regions of a map.</summary>
    /// <param name="map">The map; cells that were not measured belong to no region.</param>
    /// <param name="settings">What counts.</param>
    /// <exception cref="StatisticsException">A threshold or a size makes no sense.</exception>
    /// <remarks>
    /// Cells below the growing threshold are joined to their neighbours (union-find; Rosenfeld and Pfaltz 1966, Galler and Fischer 1964),
    /// across the seam of a closed girth; components without a cell below the seed threshold are left out.
    /// </remarks>
    public static RegionMap Find(ThicknessMap map, RegionSettings settings)
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(settings);
        Check(settings);
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        var mask = new bool[wall.Length];
        for (int k = 0; k < mask.Length; k++)
            mask[k] = wall[k] < settings.GrowThresholdMetres;
        (int[] labels, int count) = ConnectedCells.Label(
            mask,
            map.AlongCount,
            map.AroundCount,
            map.Axes.WrapsAround,
            settings.JoinAtCorners
        );
        return Build(map, settings, labels, count);
    }

    /// <summary>Splits regions along the ridges between their basins (watershed).</summary>
    /// <param name="map">The map the regions were found on.</param>
    /// <param name="regions">Regions.</param>
    /// <param name="saddleMetres">A basin stays apart when the ridge to its deeper neighbour is at least so much above its own deepest point.</param>
    /// <returns>Regions numbered anew; every cell keeps belonging to a region unless that falls below the minimum footprint.</returns>
    /// <remarks>
    /// Cells are flooded from the thinnest up; basins that meet before the shallower one is <paramref name="saddleMetres"/> deep become one
    /// (watershed by immersion, Vincent and Soille 1991, with dynamics, Grimaud 1992). A ridge cell goes to the basin of its thinnest neighbour.
    /// </remarks>
    public static RegionMap Split(ThicknessMap map, RegionMap regions, double saddleMetres)
    {
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(regions);
        if (!(saddleMetres > 0))
            throw new ArgumentOutOfRangeException(nameof(saddleMetres), saddleMetres, "The saddle must be above zero.");
        (int[] labels, int count) = Watershed.Split(map, regions, saddleMetres);
        return Build(map, regions.Settings, labels, count);
    }

    private static RegionMap Build(ThicknessMap map, RegionSettings settings, int[] labels, int count)
    {
        RegionSums[] sums = RegionSums.Of(map, settings, labels, count);
        var kept = new List<int>();
        int dropped = 0;
        double droppedArea = 0;
        for (int k = 1; k <= count; k++)
        {
            if (!(sums[k].Smallest < settings.SeedThresholdMetres))
                continue;
            if (sums[k].Cells < settings.MinimumCells || sums[k].Area < settings.MinimumAreaSquareMetres)
            {
                dropped++;
                droppedArea += sums[k].Area;
                continue;
            }
            kept.Add(k);
        }
        kept.Sort(
            (a, b) =>
            {
                int byWall = sums[a].Smallest.CompareTo(sums[b].Smallest);
                return byWall != 0 ? byWall : sums[a].DeepestCell.CompareTo(sums[b].DeepestCell);
            }
        );
        var number = new int[count + 1];
        var starts = new int[kept.Count + 1];
        for (int k = 0; k < kept.Count; k++)
        {
            number[kept[k]] = k + 1;
            starts[k + 1] = starts[k] + sums[kept[k]].Cells;
        }
        var cells = new int[starts[^1]];
        int[] next = (int[])starts.Clone();
        for (int k = 0; k < labels.Length; k++)
        {
            if (labels[k] == 0)
                continue;
            labels[k] = number[labels[k]];
            if (labels[k] > 0)
                cells[next[labels[k] - 1]++] = k;
        }
        ThinRegion[] regions = kept.Select((k, place) => sums[k].Region(map, settings, place + 1, cells, starts))
            .ToArray();
        IReadOnlyList<RegionGroup> groups = RegionGroups.Of(map, settings, regions);
        return new RegionMap(settings, labels, cells, starts, regions, groups, dropped, droppedArea);
    }

    private static void Check(RegionSettings settings)
    {
        if (!(settings.SeedThresholdMetres > 0) || !(settings.GrowThresholdMetres >= settings.SeedThresholdMetres))
            throw new StatisticsException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The growing threshold of {settings.GrowThresholdMetres} m lies below the seed threshold of {settings.SeedThresholdMetres} m, or one is not above zero."
                ),
                "region settings, GrowThresholdMetres",
                "grow at the seed threshold or above it"
            );
        if (!(settings.ReferenceWallMetres > 0))
            throw new StatisticsException(
                string.Create(CultureInfo.InvariantCulture, $"The reference wall is {settings.ReferenceWallMetres} m."),
                "region settings, ReferenceWallMetres",
                "give the nominal wall, or the median of the sound metal"
            );
        if (settings.MinimumCells < 1 || !(settings.MinimumAreaSquareMetres >= 0) || !(settings.PitWallMultiple >= 0))
            throw new StatisticsException(
                "A minimum footprint or the pit multiple is negative.",
                "region settings",
                "give at least 1 cell, an area of zero or more, and a multiple of zero or more"
            );
    }
}
