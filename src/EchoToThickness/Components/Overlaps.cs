namespace EchoToThickness.Components;

/// <summary>Compares lines where they overlap.</summary>
public static class Overlaps
{
    // Expected smallest of n standard normal values; order statistics, e.g. Harter 1961. 2: 1/sqrt(pi), 3: 3/(2 sqrt(pi)).
    private static readonly double[] SmallestNormal = [0, 0, 0.564190, 0.846284, 1.029375, 1.162964, 1.267206];

    /// <summary>Compares the lines of a map; each line stands with the mean of its values in a cell.</summary>
    /// <param name="map">The map.</param>
    public static OverlapReport Of(StitchedMap map)
    {
        ArgumentNullException.ThrowIfNull(map);
        var differences = new Dictionary<(int, int), (List<double> Values, double Area)>();
        double noise = 0,
            bias = 0,
            factor = 0;
        int overlapCells = 0,
            noiseCount = 0;
        var all = new List<double>();
        var values = new List<(int Line, double Wall)>();
        for (int cell = 0; cell < map.Raster.Count; cell++)
        {
            LinesOf(map, cell, values, ref noise, ref noiseCount);
            if (values.Count < 2)
                continue;
            overlapCells++;
            bias += values.Min(v => v.Wall) - values.Average(v => v.Wall);
            factor += SmallestNormal[Math.Min(values.Count, SmallestNormal.Length - 1)];
            for (int a = 0; a < values.Count; a++)
            for (int b = a + 1; b < values.Count; b++)
            {
                (int, int) key = (values[a].Line, values[b].Line);
                if (!differences.TryGetValue(key, out (List<double> Values, double Area) entry))
                    entry = ([], 0);
                entry.Values.Add(values[b].Wall - values[a].Wall);
                differences[key] = (entry.Values, entry.Area + map.AreaSquareMetres[cell]);
            }
        }
        var pairs = new List<OverlapPair>();
        foreach (((int a, int b), (List<double> list, double area)) in differences.OrderBy(d => d.Key))
        {
            double mean = list.Average();
            double deviation =
                list.Count > 1 ? Math.Sqrt(list.Sum(d => (d - mean) * (d - mean)) / (list.Count - 1)) : 0;
            double median = Median(list);
            all.AddRange(list.Select(d => d - median));
            pairs.Add(
                new OverlapPair(
                    map.Lines[a].Name,
                    map.Lines[b].Name,
                    list.Count,
                    area,
                    mean,
                    deviation,
                    1.4826 * Median([.. list.Select(d => Math.Abs(d - median))])
                )
            );
        }
        double repeatability = all.Count == 0 ? double.NaN : 1.4826 * Median([.. all.Select(Math.Abs)]) / Math.Sqrt(2);
        return new OverlapReport(
            pairs,
            all.Count,
            repeatability,
            noiseCount == 0 ? double.NaN : Math.Sqrt(noise / noiseCount),
            overlapCells == 0 ? double.NaN : bias / overlapCells,
            overlapCells == 0 ? double.NaN : -repeatability * factor / overlapCells
        );
    }

    /// <summary>Median; the mean of the middle two for an even count.</summary>
    internal static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        int half = sorted.Length / 2;
        return sorted.Length == 0 ? double.NaN
            : sorted.Length % 2 == 1 ? sorted[half]
            : (sorted[half - 1] + sorted[half]) / 2;
    }

    private static void LinesOf(
        StitchedMap map,
        int cell,
        List<(int Line, double Wall)> values,
        ref double noise,
        ref int noiseCount
    )
    {
        values.Clear();
        int at = -1,
            count = 0;
        double sum = 0,
            squares = 0;
        for (int k = 0; k < map.ContributorCount(cell); k++)
        {
            (int l, int source) = map.Contributor(cell, k);
            LineCells line = map.Lines[l];
            if (!line.IsMeasured(source))
                continue;
            if (l != at)
            {
                if (count > 0)
                    values.Add((at, sum / count));
                (at, sum, squares, count) = (l, 0, 0, 0);
            }
            sum += line.ThicknessMetres[source];
            squares += line.Noise(source) * line.Noise(source);
            count++;
        }
        if (count > 0)
            values.Add((at, sum / count));
        if (values.Count > 1)
        {
            noise += squares / Math.Max(1, count);
            noiseCount++;
        }
    }
}
