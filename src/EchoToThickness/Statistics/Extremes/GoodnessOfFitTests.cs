using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Tests of fit with estimated parameters.</summary>
public static class GoodnessOfFitTests
{
    /// <summary>Anderson and Darling's statistic of probabilities that should be uniform.</summary>
    /// <param name="ascending">Shape [value]: fitted probabilities, ascending, between 0 and 1.</param>
    /// <remarks>Source: Anderson and Darling, J. Am. Stat. Assoc. 49 (1954) 765.</remarks>
    public static double AndersonDarling(ReadOnlySpan<double> ascending)
    {
        int n = ascending.Length;
        double sum = 0;
        for (int k = 0; k < n; k++)
        {
            double low = Math.Max(ascending[k], 1e-300);
            double high = Math.Max(1 - ascending[n - 1 - k], 1e-16);
            sum += (2 * k + 1) * (Math.Log(low) + Math.Log(high));
        }
        return -n - sum / n;
    }

    /// <summary>Kolmogorov and Smirnov's largest distance of probabilities that should be uniform.</summary>
    /// <param name="ascending">Shape [value]: fitted probabilities, ascending.</param>
    public static double KolmogorovSmirnov(ReadOnlySpan<double> ascending)
    {
        int n = ascending.Length;
        double largest = 0;
        for (int k = 0; k < n; k++)
            largest = Math.Max(largest, Math.Max((k + 1.0) / n - ascending[k], ascending[k] - (double)k / n));
        return largest;
    }

    /// <summary>Probability that the distance of n values from their known distribution stays below d.</summary>
    /// <param name="distance">Distance d.</param>
    /// <param name="count">Number n.</param>
    /// <remarks>Exact: Marsaglia, Tsang and Wang, J. Stat. Softw. 8 (2003) 18. Only for parameters that were not estimated.</remarks>
    public static double KolmogorovCumulative(double distance, int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        int k = (int)(count * distance) + 1;
        int m = 2 * k - 1;
        double h = k - count * distance;
        var matrix = new double[m, m];
        for (int i = 0; i < m; i++)
        for (int j = 0; j < m; j++)
            matrix[i, j] = i - j + 1 < 0 ? 0 : 1;
        for (int i = 0; i < m; i++)
        {
            matrix[i, 0] -= Math.Pow(h, i + 1);
            matrix[m - 1, i] -= Math.Pow(h, m - i);
        }
        matrix[m - 1, 0] += 2 * h - 1 > 0 ? Math.Pow(2 * h - 1, m) : 0;
        for (int i = 0; i < m; i++)
        for (int j = 0; j < m; j++)
        for (int g = 1; g <= i - j + 1; g++)
            matrix[i, j] /= g;
        (double[,] power, int exponent) = Power(matrix, m, count);
        double s = power[k - 1, k - 1];
        for (int i = 1; i <= count; i++)
        {
            s = s * i / count;
            if (s < 1e-140)
            {
                s *= 1e140;
                exponent -= 140;
            }
        }
        return s * Math.Pow(10, exponent);
    }

    /// <summary>Tests a fit of block maxima.</summary>
    /// <param name="sample">The sample; weights other than 1 are taken as 1.</param>
    /// <param name="fit">Its fit.</param>
    /// <param name="trials">Bootstrap samples.</param>
    /// <param name="seed">Seed.</param>
    public static GoodnessOfFit Of(BlockSample sample, ExtremeFit fit, int trials, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(sample);
        ArgumentNullException.ThrowIfNull(fit);
        double[] probabilities = Probabilities(sample.Values, sample.Exposures, fit.Distribution);
        double ad = AndersonDarling(probabilities);
        double ks = KolmogorovSmirnov(probabilities);
        int n = sample.Count;
        var isBeyond = new (bool Ad, bool Ks)[trials];
        Parallel.For(
            0,
            trials,
            trial =>
            {
                var values = new double[n];
                var random = new StatisticsRandom(seed, (ulong)trial);
                for (int k = 0; k < n; k++)
                    values[k] = fit.Distribution.AtHazard(-Math.Log(random.Uniform()) / sample.Exposures[k]);
                var drawn = new BlockSample(values, default, sample.Exposures);
                ExtremeFit again = GevFitter.MaximumLikelihood(drawn, fit.Rule, false);
                double[] p = Probabilities(drawn.Values, drawn.Exposures, again.Distribution);
                isBeyond[trial] = (AndersonDarling(p) >= ad, KolmogorovSmirnov(p) >= ks);
            }
        );
        int adBeyond = isBeyond.Count(b => b.Ad);
        int ksBeyond = isBeyond.Count(b => b.Ks);
        double[] ordered = sample.Values.ToArray();
        Array.Sort(ordered);
        double[] positions = Enumerable.Range(1, n).Select(k => k / (n + 1.0)).ToArray();
        return new GoodnessOfFit
        {
            AndersonDarling = ad,
            AndersonDarlingProbability = (1.0 + adBeyond) / (1 + trials),
            KolmogorovSmirnov = ks,
            KolmogorovSmirnovProbability = (1.0 + ksBeyond) / (1 + trials),
            Positions = positions,
            FittedProbabilities = probabilities,
            OrderedValues = ordered,
            FittedQuantiles = positions.Select(fit.Distribution.Quantile).ToArray(),
        };
    }

    private static double[] Probabilities(
        ReadOnlySpan<double> values,
        ReadOnlySpan<double> exposures,
        GeneralisedExtremeValue distribution
    )
    {
        var probabilities = new double[values.Length];
        for (int k = 0; k < values.Length; k++)
            probabilities[k] = Math.Exp(-exposures[k] * distribution.Hazard(values[k]));
        Array.Sort(probabilities);
        return probabilities;
    }

    private static (double[,] Power, int Exponent) Power(double[,] matrix, int m, int n)
    {
        if (n == 1)
            return (matrix, 0);
        (double[,] half, int exponent) = Power(matrix, m, n / 2);
        double[,] power = Multiply(half, half, m);
        exponent *= 2;
        if (n % 2 == 1)
            power = Multiply(power, matrix, m);
        if (power[m / 2, m / 2] > 1e140)
        {
            for (int i = 0; i < m; i++)
            for (int j = 0; j < m; j++)
                power[i, j] *= 1e-140;
            exponent += 140;
        }
        return (power, exponent);
    }

    private static double[,] Multiply(double[,] a, double[,] b, int m)
    {
        var product = new double[m, m];
        for (int i = 0; i < m; i++)
        for (int k = 0; k < m; k++)
        for (int j = 0; j < m; j++)
            product[i, j] += a[i, k] * b[k, j];
        return product;
    }
}
