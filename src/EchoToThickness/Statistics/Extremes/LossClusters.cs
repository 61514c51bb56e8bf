using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Independent thin spots: clusters of cells below a threshold.</summary>
public static class LossClusters
{
    /// <summary>Thinnest cell of every cluster.</summary>
    /// <param name="map">The map.</param>
    /// <param name="thresholdMetres">Wall below which a cell counts.</param>
    /// <param name="alongRunMetres">Cells closer than this along (with the gap around also within its run) belong to one cluster.</param>
    /// <param name="aroundRunMetres">The same around.</param>
    /// <returns>Cells, ascending; one a cluster.</returns>
    /// <remarks>
    /// Runs declustering (Coles 2001, 5.3.2) in two dimensions: the mask is widened by half the run on every side and its connected parts
    /// are the clusters.
    /// </remarks>
    public static IReadOnlyList<int> Deepest(
        ThicknessMap map,
        double thresholdMetres,
        double alongRunMetres,
        double aroundRunMetres
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        int rows = map.AlongCount;
        int columns = map.AroundCount;
        bool wraps = map.Axes.WrapsAround;
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        int along = (int)Math.Max(0, alongRunMetres / map.Axes.AlongPitchMetres / 2);
        int around = (int)Math.Max(0, Math.Min(aroundRunMetres / map.Axes.AroundPitchMetres / 2, (columns - 1) / 2));
        var wide = new bool[wall.Length];
        for (int i = 0; i < rows; i++)
        {
            int covered = -1;
            for (int j = 0; j < columns; j++)
            {
                if (!(wall[i * columns + j] < thresholdMetres))
                    continue;
                for (int k = Math.Max(j - around, wraps ? j - around : covered + 1); k <= j + around; k++)
                {
                    int place = wraps ? (k + columns) % columns : k;
                    if (place >= 0 && place < columns)
                        wide[i * columns + place] = true;
                }
                covered = j + around;
            }
        }
        if (along > 0)
            wide = WidenAlong(wide, rows, columns, along);
        (int[] labels, int count) = ConnectedCells.Label(wide, rows, columns, wraps, true);
        var deepest = new int[count + 1];
        Array.Fill(deepest, -1);
        for (int k = 0; k < wall.Length; k++)
            if (wall[k] < thresholdMetres && (deepest[labels[k]] < 0 || wall[k] < wall[deepest[labels[k]]]))
                deepest[labels[k]] = k;
        return deepest.Where(cell => cell >= 0).Order().ToArray();
    }

    private static bool[] WidenAlong(bool[] mask, int rows, int columns, int reach)
    {
        var wide = new bool[mask.Length];
        // For every column the distance to the last set cell above, then below.
        var since = new int[columns];
        Array.Fill(since, int.MaxValue / 2);
        for (int i = 0; i < rows; i++)
        for (int j = 0; j < columns; j++)
        {
            since[j] = mask[i * columns + j] ? 0 : since[j] + 1;
            wide[i * columns + j] = since[j] <= reach;
        }
        Array.Fill(since, int.MaxValue / 2);
        for (int i = rows - 1; i >= 0; i--)
        for (int j = 0; j < columns; j++)
        {
            since[j] = mask[i * columns + j] ? 0 : since[j] + 1;
            wide[i * columns + j] |= since[j] <= reach;
        }
        return wide;
    }
}
