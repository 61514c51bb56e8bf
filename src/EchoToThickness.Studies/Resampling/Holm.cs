namespace EchoToThickness.Studies.Resampling;

/// <summary>Correction for several tests at once (Holm, Scandinavian Journal of Statistics 6, 1979).</summary>
public static class Holm
{
    /// <summary>Adjusted p-values: rejecting those under a level makes any false rejection at most that likely.</summary>
    /// <param name="pValues">p-values; NaN where a test could not be made, and is left out of the count.</param>
    /// <returns>In the same order.</returns>
    public static double[] Adjust(IReadOnlyList<double> pValues)
    {
        ArgumentNullException.ThrowIfNull(pValues);
        int[] order = Enumerable
            .Range(0, pValues.Count)
            .Where(i => !double.IsNaN(pValues[i]))
            .OrderBy(i => pValues[i])
            .ToArray();
        double[] adjusted = Enumerable.Repeat(double.NaN, pValues.Count).ToArray();
        double largest = 0;
        for (int k = 0; k < order.Length; k++)
        {
            largest = Math.Max(largest, Math.Min(1, (order.Length - k) * pValues[order[k]]));
            adjusted[order[k]] = largest;
        }
        return adjusted;
    }
}
