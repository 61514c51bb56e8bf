using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Variance;

/// <summary>Components of variance by restricted maximum likelihood: random factors nested or crossed, in equal or unequal numbers.</summary>
/// <remarks>
/// <c>y = X b + sum Z_k u_k + e</c> with normal u and e. Patterson and Thompson, Biometrika 58, 1971; Searle, Casella and McCulloch 1992, chapter 6.
/// Intervals from the profile of the restricted likelihood (chi-squared with 1 degree of freedom, also at the bound 0, where it is conservative).
/// </remarks>
public sealed record RestrictedLikelihood
{
    /// <summary>Most levels of all random factors together; beyond, work on means of cells.</summary>
    public const int MostLevels = 1500;

    /// <summary>Components in the order of the factors, the readings last.</summary>
    public required IReadOnlyList<VarianceComponent> Components { get; init; }

    /// <summary>Mean (generalised least squares); its interval uses the normal distribution.</summary>
    public required Estimate Mean { get; init; }

    /// <summary>Restricted log-likelihood, with all constants.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Covariance of the estimated variances (inverse expected information), shape [component, component]; NaN rows for components at 0.</summary>
    public required IReadOnlyList<IReadOnlyList<double>> Covariance { get; init; }

    /// <summary>Fits components.</summary>
    /// <param name="values">Values.</param>
    /// <param name="random">Random factors, at least one; for an inner factor use <see cref="Factor.Cross"/> with its outer one.</param>
    /// <param name="confidence">Two-sided confidence of the intervals.</param>
    /// <param name="covariates">Fixed columns beside the mean, such as the true wall; may be null.</param>
    /// <exception cref="StatisticsException">Too many levels, or too few values for the columns.</exception>
    public static RestrictedLikelihood Of(
        ReadOnlySpan<double> values,
        IReadOnlyList<Factor> random,
        double confidence = 0.95,
        IReadOnlyList<double[]>? covariates = null
    )
    {
        ArgumentNullException.ThrowIfNull(random);
        ArgumentOutOfRangeException.ThrowIfZero(random.Count);
        int levels = random.Sum(f => f.Levels.Count);
        if (levels > MostLevels)
            throw new StatisticsException(
                $"{levels} levels of random factors; the most are {MostLevels}.",
                "restricted likelihood",
                "give the means of the cells of each placement instead of the cells."
            );
        var sums = new MixedSums(values, random, covariates ?? []);
        double crit = Quantile.ChiSquared(confidence, 1);
        (double[] best, double top) = sums.Maximise(-1, 0);
        int k = random.Count;
        double[,] information = sums.Information(best);
        int[] inside = Enumerable.Range(0, k + 1).Where(i => best[i] > 0).ToArray();
        var small = new double[inside.Length, inside.Length];
        for (int i = 0; i < inside.Length; i++)
        for (int j = 0; j < inside.Length; j++)
            small[i, j] = information[inside[i], inside[j]];
        double[,]? inverse = Curvature.Inverse(small);
        var covariance = new double[k + 1][];
        for (int i = 0; i <= k; i++)
        {
            covariance[i] = Enumerable.Repeat(double.NaN, k + 1).ToArray();
            for (int j = 0; j <= k; j++)
                if (
                    inverse != null
                    && Array.IndexOf(inside, i) is >= 0 and var a
                    && Array.IndexOf(inside, j) is >= 0 and var b
                )
                    covariance[i][j] = inverse[a, b];
        }
        var components = new VarianceComponent[k + 1];
        for (int i = 0; i <= k; i++)
        {
            int which = i;
            double scale = best.Sum();
            double Drop(double variance) => 2 * (top - sums.Maximise(which, variance, best).Value) - crit;
            double low = best[i] <= 0 || Drop(0) <= 0 ? 0 : Roots.Between(Drop, 0, best[i], 1e-7);
            double far = Math.Max(best[i], 1e-3 * scale) * 4;
            while (Drop(far) < 0 && far < 1e12 * scale)
                far *= 4;
            double high = Roots.Between(Drop, Math.Max(best[i], 0), far, 1e-7);
            double dof = 2 * best[i] * best[i] / covariance[i][i];
            components[i] = new VarianceComponent(
                i < k ? random[i].Name : "readings",
                best[i],
                best[i],
                new Estimate(
                    "standard deviation, restricted maximum likelihood, profile interval",
                    Math.Sqrt(best[i]),
                    Math.Sqrt(covariance[i][i]) / (2 * Math.Sqrt(best[i])),
                    new(Math.Sqrt(low), Math.Sqrt(high), confidence),
                    i < k ? random[i].Levels.Count : values.Length,
                    values.Length,
                    dof
                )
            );
        }
        (double mean, double variance) = sums.Mean(best);
        double z = NormalDistribution.Quantile((1 + confidence) / 2);
        return new RestrictedLikelihood
        {
            Components = components,
            LogLikelihood = top,
            Covariance = covariance,
            Mean = new Estimate(
                "mean, generalised least squares",
                mean,
                Math.Sqrt(variance),
                ConfidenceInterval.About(mean, z * Math.Sqrt(variance), confidence),
                random.Min(f => f.Levels.Count),
                values.Length,
                double.PositiveInfinity
            ),
        };
    }
}
