namespace EchoToThickness.Stacks.Sanity;

/// <summary>Order statistics that skip NaN.</summary>
internal static class Robust
{
    /// <summary>Median (lower one of an even count) of the values that are not NaN; NaN when there is none.</summary>
    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Where(v => !double.IsNaN(v)).Order()];
        return sorted.Length == 0 ? double.NaN : sorted[(sorted.Length - 1) / 2];
    }

    /// <summary>Fraction of the items that pass; 0 for none.</summary>
    public static double Fraction<T>(IReadOnlyCollection<T> items, Func<T, bool> passes) =>
        items.Count == 0 ? 0 : (double)items.Count(passes) / items.Count;

    /// <summary>Standard deviation; NaN for fewer than eight values.</summary>
    public static double Spread(IReadOnlyCollection<double> values)
    {
        if (values.Count < 8)
            return double.NaN;
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / values.Count);
    }
}
