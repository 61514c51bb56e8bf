using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Describe;

/// <summary>How far noise pulls the smallest of many cells down.</summary>
public static class MinimumBias
{
    private const int MostSamples = 20000;
    private const double Reach = 6;
    private static readonly int[] Windows = [2, 6, 20];

    /// <summary>Expected smallest of independent normal values less the smallest of their means.</summary>
    /// <param name="means">Shape [value].</param>
    /// <param name="deviations">Shape [value], zero or more.</param>
    /// <param name="counts">Shape [value]: how many values share these numbers; empty for one each.</param>
    /// <returns>Zero or below.</returns>
    /// <remarks>
    /// <c>E[min] = low + integral of S from low</c>, where <c>S(x)</c> is the product of the probabilities of lying above x and S = 1 below
    /// <c>low</c>; Simpson's rule with 400 intervals over the range in which S is neither 0 nor 1.
    /// </remarks>
    public static double OfNormals(
        ReadOnlySpan<double> means,
        ReadOnlySpan<double> deviations,
        ReadOnlySpan<double> counts = default
    )
    {
        double smallest = double.PositiveInfinity;
        double low = double.PositiveInfinity;
        double high = double.PositiveInfinity;
        for (int k = 0; k < means.Length; k++)
        {
            smallest = Math.Min(smallest, means[k]);
            low = Math.Min(low, means[k] - 9 * deviations[k]);
            high = Math.Min(high, means[k] + 9 * deviations[k]);
        }
        if (!(high > low))
            return 0;
        const int intervals = 400;
        double step = (high - low) / intervals;
        double sum = 0;
        for (int k = 0; k <= intervals; k++)
        {
            double survival = Survival(means, deviations, counts, low + k * step);
            sum +=
                (
                    k == 0 || k == intervals ? 1
                    : k % 2 == 1 ? 4
                    : 2
                ) * survival;
        }
        return Math.Min(0, low + sum * step / 3 - smallest);
    }

    /// <summary>Bias of a map's smallest wall.</summary>
    /// <param name="map">The map.</param>
    /// <param name="smallest">Index of its smallest cell.</param>
    /// <returns>Bias, zero or below, metres, and the number of cells that could have been the smallest.</returns>
    /// <remarks>
    /// Cells within six noise deviations of the smallest take part; above 20,000 every n-th of them stands for n. Their true walls are
    /// estimated by the mean of the widest window (5, 13 or 41 cells square) in which neither the spread nor the cell itself is too much for
    /// noise (one map in a hundred); where not even the narrowest is, by drawing the cell towards its mean by the share of the variance that noise explains (James and Stein 1961). Noise is taken
    /// as independent from cell to cell. Estimates are gathered in classes of a twentieth of a deviation.
    /// </remarks>
    public static (double BiasMetres, int Contenders) OfMap(ThicknessMap map, int smallest)
    {
        ArgumentNullException.ThrowIfNull(map);
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        ReadOnlySpan<double> noise = map.NoiseUncertaintyMetres;
        double least = wall[smallest];
        int contenders = 0;
        for (int k = 0; k < wall.Length; k++)
            if (wall[k] - least <= Reach * noise[k])
                contenders++;
        // Deviations that pure noise exceeds in one of a hundred such maps.
        double rare = NormalDistribution.Quantile(1 - 0.01 / Math.Max(contenders, 1));
        int stride = 1 + contenders / MostSamples;
        var classes = new Dictionary<(int Deviation, int Mean), double>();
        int place = 0;
        for (int k = 0; k < wall.Length; k++)
            if (wall[k] - least <= Reach * noise[k])
            {
                if (place++ % stride != 0 || noise[k] == 0)
                    continue;
                // Deviations in steps of 2 %, means in twentieths of that deviation.
                int deviation = (int)Math.Round(Math.Log(noise[k]) / Math.Log(1.02));
                int mean = (int)Math.Round((Shrunk(map, k, rare) - least) / (0.05 * Math.Pow(1.02, deviation)));
                classes.TryGetValue((deviation, mean), out double held);
                classes[(deviation, mean)] = held + stride;
            }
        if (classes.Count == 0)
            return (0, contenders);
        var means = new double[classes.Count];
        var deviations = new double[classes.Count];
        int next = 0;
        var counts = new double[classes.Count];
        foreach ((int Deviation, int Mean) key in classes.Keys.Order())
        {
            deviations[next] = Math.Pow(1.02, key.Deviation);
            means[next] = least + key.Mean * 0.05 * deviations[next];
            counts[next++] = classes[key];
        }
        return (OfNormals(means, deviations, counts), contenders);
    }

    /// <summary>Mean of the widest window whose spread is that of noise; where not even 5 by 5 cells are, the cell drawn towards their mean.</summary>
    private static double Shrunk(ThicknessMap map, int cell, double rare)
    {
        double wall = map.ThicknessMetres[cell];
        double best = wall;
        foreach (int reach in Windows)
        {
            (int count, double mean, double variance, double noise) = Window(map, cell, reach);
            if (count < 4)
                continue;
            // Wilson and Hilferty (1931): a chi-square quantile from a normal one.
            double third = 2.0 / (9 * (count - 1));
            double limit = Math.Pow(1 - third + rare * Math.Sqrt(third), 3);
            if (variance <= noise * limit && Math.Abs(wall - mean) <= rare * map.NoiseUncertaintyMetres[cell])
            {
                best = mean;
                continue;
            }
            return reach == Windows[0] ? mean + Math.Max(0, 1 - noise / variance) * (wall - mean) : best;
        }
        return best;
    }

    private static (int Count, double Mean, double Variance, double Noise) Window(ThicknessMap map, int cell, int reach)
    {
        ReadOnlySpan<double> wall = map.ThicknessMetres;
        ReadOnlySpan<double> deviation = map.NoiseUncertaintyMetres;
        int along = cell / map.AroundCount;
        int around = cell % map.AroundCount;
        int count = 0;
        double sum = 0;
        double squares = 0;
        double noise = 0;
        int sides = Math.Min(reach, (map.AroundCount - 1) / 2);
        for (int i = Math.Max(0, along - reach); i <= Math.Min(map.AlongCount - 1, along + reach); i++)
        for (int offset = -sides; offset <= sides; offset++)
        {
            int j = around + offset;
            if (map.Axes.WrapsAround)
                j = (j + map.AroundCount) % map.AroundCount;
            int index = i * map.AroundCount + j;
            if (j < 0 || j >= map.AroundCount || double.IsNaN(wall[index]))
                continue;
            count++;
            double distance = wall[index] - wall[cell];
            sum += distance;
            squares += distance * distance;
            noise += deviation[index] * deviation[index];
        }
        if (count < 2)
            return (count, wall[cell], 0, 0);
        double mean = sum / count;
        return (count, wall[cell] + mean, (squares - count * mean * mean) / (count - 1), noise / count);
    }

    private static double Survival(
        ReadOnlySpan<double> means,
        ReadOnlySpan<double> deviations,
        ReadOnlySpan<double> counts,
        double x
    )
    {
        double survival = 1;
        for (int k = 0; k < means.Length && survival > 1e-16; k++)
        {
            double distance = means[k] - x;
            double above =
                deviations[k] == 0 ? (distance >= 0 ? 1 : 0)
                : distance < 9 * deviations[k] ? NormalDistribution.Below(distance / deviations[k])
                : 1;
            survival *= counts.IsEmpty ? above : Math.Pow(above, counts[k]);
        }
        return survival;
    }
}
