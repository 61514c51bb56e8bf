namespace EchoToThickness.Studies.Searching;

/// <summary>How much of a function's variance over its space comes from each axis (Sobol 1993).</summary>
/// <param name="First">Shape [axis]: share of the axis by itself, its main effect.</param>
/// <param name="Total">Shape [axis]: share that would be left if all other axes were fixed, interactions included.</param>
/// <param name="Pairs">Shape [axis, axis]: share of the interaction of two axes, each without its main effect; symmetric, diagonal 0.</param>
/// <param name="Variance">The variance.</param>
public sealed record VarianceShares(double[] First, double[] Total, double[,] Pairs, double Variance)
{
    /// <summary>Estimates the shares by Monte Carlo.</summary>
    /// <param name="axes">Axes; places are taken evenly and independently.</param>
    /// <param name="function">Value at a point.</param>
    /// <param name="count">Points of a sample; the function is called <c>count * (2 + axes + pairs)</c> times.</param>
    /// <param name="random">Random numbers.</param>
    /// <remarks>
    /// First order and closed pairs: Saltelli et al., "Variance based sensitivity analysis of model output", 2010, table 2 (b); total: Jansen 1999, table 2 (f).
    /// Samples are Latin hypercubes; values are taken from their mean, which makes the estimates steadier and changes no expectation.
    /// </remarks>
    public static VarianceShares Of(
        IReadOnlyList<SearchAxis> axes,
        Func<double[], double> function,
        int count,
        RandomStream random
    )
    {
        ArgumentNullException.ThrowIfNull(axes);
        ArgumentNullException.ThrowIfNull(function);
        ArgumentNullException.ThrowIfNull(random);
        double[][] a = SearchDesign.LatinHypercube(axes, count, random);
        double[][] b = SearchDesign.LatinHypercube(axes, count, random);
        double[] fa = Values(function, a);
        double[] fb = Values(function, b);
        double mean = (fa.Average() + fb.Average()) / 2;
        Shift(fa, mean);
        Shift(fb, mean);
        double variance = (fa.Sum(v => v * v) + fb.Sum(v => v * v)) / (2 * count);
        int d = axes.Count;
        var first = new double[d];
        var total = new double[d];
        var pairs = new double[d, d];
        if (!(variance > 0))
            return new VarianceShares(first, total, pairs, 0);
        for (int i = 0; i < d; i++)
        {
            double[] mixed = Mixed(function, a, b, mean, i, i);
            first[i] = Closed(fa, fb, mixed) / variance;
            for (int n = 0; n < count; n++)
                total[i] += (fa[n] - mixed[n]) * (fa[n] - mixed[n]) / (2 * count * variance);
        }
        for (int i = 0; i < d; i++)
        for (int j = i + 1; j < d; j++)
            pairs[i, j] = pairs[j, i] =
                Closed(fa, fb, Mixed(function, a, b, mean, i, j)) / variance - first[i] - first[j];
        return new VarianceShares(first, total, pairs, variance);
    }

    private static double[] Values(Func<double[], double> function, double[][] points) =>
        Array.ConvertAll(points, p => function(p));

    private static void Shift(double[] values, double mean)
    {
        for (int n = 0; n < values.Length; n++)
            values[n] -= mean;
    }

    private static double[] Mixed(
        Func<double[], double> function,
        double[][] a,
        double[][] b,
        double mean,
        int i,
        int j
    )
    {
        var values = new double[a.Length];
        for (int n = 0; n < a.Length; n++)
        {
            double[] point = [.. a[n]];
            point[i] = b[n][i];
            point[j] = b[n][j];
            values[n] = function(point) - mean;
        }
        return values;
    }

    private static double Closed(double[] fa, double[] fb, double[] mixed)
    {
        double sum = 0;
        for (int n = 0; n < fa.Length; n++)
            sum += fb[n] * (mixed[n] - fa[n]);
        return sum / fa.Length;
    }
}
