using EchoToThickness.Statistics.Numerics;
using MathNet.Numerics;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Rank tests of one population and of independence.</summary>
public static class HomogeneityTests
{
    /// <summary>Kruskal and Wallis (1952): do groups have the same distribution? Corrected for ties, chi-square approximation.</summary>
    /// <param name="name">Name in words.</param>
    /// <param name="values">Shape [value].</param>
    /// <param name="groups">Shape [value]: number of the group.</param>
    public static TestOutcome KruskalWallis(string name, ReadOnlySpan<double> values, ReadOnlySpan<int> groups)
    {
        double[] ranks = Ranks(values, out double ties);
        int n = values.Length;
        var sums = new SortedDictionary<int, (double Sum, int Count)>();
        for (int k = 0; k < n; k++)
        {
            sums.TryGetValue(groups[k], out (double Sum, int Count) held);
            sums[groups[k]] = (held.Sum + ranks[k], held.Count + 1);
        }
        double h = 0;
        foreach ((double sum, int count) in sums.Values)
            h += sum * sum / count;
        h = 12 / (n * (n + 1.0)) * h - 3 * (n + 1);
        h /= 1 - ties / ((double)n * n * n - n);
        return sums.Count < 2 || n < 5
            ? new TestOutcome(name, double.NaN, double.NaN)
            : new TestOutcome(
                name,
                h,
                SpecialFunctions.GammaUpperRegularized((sums.Count - 1) / 2.0, Math.Max(0, h) / 2)
            );
    }

    /// <summary>Spearman's rank correlation with a position: is there a trend? Normal approximation with variance 1 / (n - 1).</summary>
    /// <param name="name">Name in words.</param>
    /// <param name="values">Shape [value].</param>
    /// <param name="positions">Shape [value].</param>
    public static TestOutcome Trend(string name, ReadOnlySpan<double> values, ReadOnlySpan<double> positions)
    {
        if (values.Length < 5)
            return new TestOutcome(name, double.NaN, double.NaN);
        double correlation = Correlation(Ranks(values, out _), Ranks(positions, out _));
        return double.IsNaN(correlation)
            ? new TestOutcome(name, double.NaN, double.NaN)
            : new TestOutcome(name, correlation, TwoSided(correlation * Math.Sqrt(values.Length - 1)));
    }

    /// <summary>Runs above and below the median in a given order (Wald and Wolfowitz 1940); normal approximation.</summary>
    /// <param name="name">Name in words.</param>
    /// <param name="values">Shape [value], in order; values on the median are left out.</param>
    public static TestOutcome Runs(string name, ReadOnlySpan<double> values)
    {
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        if (sorted.Length < 10)
            return new TestOutcome(name, double.NaN, double.NaN);
        double median = Describe.Quantiles.Of(sorted, 0.5);
        int above = 0;
        int below = 0;
        int runs = 0;
        int last = 0;
        foreach (double value in values)
        {
            int side = value.CompareTo(median);
            if (side == 0)
                continue;
            if (side > 0)
                above++;
            else
                below++;
            if (Math.Sign(side) != last)
                runs++;
            last = Math.Sign(side);
        }
        double n = above + below;
        double mean = 2.0 * above * below / n + 1;
        double variance = (mean - 1) * (mean - 2) / (n - 1);
        return new TestOutcome(name, runs, TwoSided((runs - mean) / Math.Sqrt(variance)));
    }

    /// <summary>Moran's correlation of neighbouring blocks, by permutation: one-sided, for neighbours that resemble each other.</summary>
    /// <param name="name">Name in words.</param>
    /// <param name="values">Shape [value].</param>
    /// <param name="pairs">Neighbouring values, each pair once.</param>
    /// <param name="permutations">Permutations.</param>
    /// <param name="seed">Seed.</param>
    /// <remarks>Source: Moran, Biometrika 37 (1950) 17. Probability (1 + as large) / (1 + permutations).</remarks>
    public static TestOutcome Neighbours(
        string name,
        ReadOnlySpan<double> values,
        IReadOnlyList<(int First, int Second)> pairs,
        int permutations,
        ulong seed
    )
    {
        ArgumentNullException.ThrowIfNull(pairs);
        if (pairs.Count < 5 || values.Length < 5)
            return new TestOutcome(name, double.NaN, double.NaN);
        double[] shuffled = Ranks(values, out _);
        double mean = shuffled.Average();
        double variance = 0;
        for (int k = 0; k < shuffled.Length; k++)
        {
            shuffled[k] -= mean;
            variance += shuffled[k] * shuffled[k] / shuffled.Length;
        }
        double Moran()
        {
            double sum = 0;
            foreach ((int first, int second) in pairs)
                sum += shuffled[first] * shuffled[second];
            return sum / pairs.Count / variance;
        }
        double observed = Moran();
        var random = new StatisticsRandom(seed, 0);
        int asLarge = 0;
        for (int trial = 0; trial < permutations; trial++)
        {
            for (int k = shuffled.Length - 1; k > 0; k--)
            {
                int other = random.Below(k + 1);
                (shuffled[k], shuffled[other]) = (shuffled[other], shuffled[k]);
            }
            if (Moran() >= observed - 1e-12)
                asLarge++;
        }
        return new TestOutcome(name, observed, (1.0 + asLarge) / (1 + permutations));
    }

    internal static double[] Ranks(ReadOnlySpan<double> values, out double ties)
    {
        double[] sorted = values.ToArray();
        int[] order = Enumerable.Range(0, sorted.Length).ToArray();
        Array.Sort(sorted, order);
        var ranks = new double[sorted.Length];
        ties = 0;
        for (int first = 0; first < sorted.Length; )
        {
            int last = first;
            while (last + 1 < sorted.Length && sorted[last + 1] == sorted[first])
                last++;
            double size = last - first + 1;
            ties += size * size * size - size;
            for (int k = first; k <= last; k++)
                ranks[order[k]] = 0.5 * (first + last) + 1;
            first = last + 1;
        }
        return ranks;
    }

    private static double Correlation(double[] a, double[] b)
    {
        double meanA = a.Average();
        double meanB = b.Average();
        double cross = 0;
        double squaresA = 0;
        double squaresB = 0;
        for (int k = 0; k < a.Length; k++)
        {
            cross += (a[k] - meanA) * (b[k] - meanB);
            squaresA += (a[k] - meanA) * (a[k] - meanA);
            squaresB += (b[k] - meanB) * (b[k] - meanB);
        }
        return cross / Math.Sqrt(squaresA * squaresB);
    }

    private static double TwoSided(double z) => 2 * NormalDistribution.Below(-Math.Abs(z));
}
