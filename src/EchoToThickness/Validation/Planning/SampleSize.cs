using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Numerics;
using MathNet.Numerics;

namespace EchoToThickness.Validation.Planning;

/// <summary>How much must be scanned for a claim, before anyone scans. All counts are of independent clusters unless said otherwise.</summary>
public static class SampleSize
{
    /// <summary>Most clusters that a search looks at.</summary>
    public const int Most = 100_000;

    /// <summary>Power of two one-sided tests of a bias against ± tolerance: exact, by expectation over the observed deviation.</summary>
    /// <param name="clusters">Clusters, at least 2.</param>
    /// <param name="deviation">Standard deviation of a cluster mean; see <see cref="ClusterMeanDeviation"/>.</param>
    /// <param name="bias">True bias.</param>
    /// <param name="tolerance">Half width of the tolerance.</param>
    /// <param name="level">Size of the test.</param>
    public static double EquivalencePower(
        int clusters,
        double deviation,
        double bias,
        double tolerance,
        double level = 0.05
    )
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(clusters, 2);
        double error = deviation / Math.Sqrt(clusters);
        double t = Quantile.Student(1 - level, clusters - 1);
        // P = E[Phi((tol - bias) / e - t s) - Phi(-(tol + bias) / e + t s)], where that is positive: s below tol / (e t).
        return ScaleExpectation.Of(
            clusters - 1,
            s =>
                Math.Max(
                    0,
                    NormalDistribution.Below((tolerance - bias) / error - t * s)
                        - NormalDistribution.Below(-(tolerance + bias) / error + t * s)
                ),
            64
        );
    }

    /// <summary>Fewest clusters at which the test of equivalence has a power.</summary>
    /// <param name="deviation">Standard deviation of a cluster mean.</param>
    /// <param name="bias">True bias, smaller than the tolerance.</param>
    /// <param name="tolerance">Half width of the tolerance.</param>
    /// <param name="power">Power, 0 to 1.</param>
    /// <param name="level">Size of the test.</param>
    /// <returns>Null when no number up to <see cref="Most"/> suffices.</returns>
    public static int? EquivalenceClusters(
        double deviation,
        double bias,
        double tolerance,
        double power = 0.9,
        double level = 0.05
    ) =>
        Math.Abs(bias) >= tolerance
            ? null
            : Smallest(2, n => EquivalencePower(n, deviation, bias, tolerance, level) >= power);

    /// <summary>Expected half width of a two-sided tolerance interval, one reading a cluster: k times the expected observed deviation.</summary>
    /// <param name="clusters">Clusters, at least 2.</param>
    /// <param name="deviation">Standard deviation of a reading.</param>
    /// <param name="share">Share of readings.</param>
    /// <param name="confidence">Confidence.</param>
    public static double ToleranceHalfWidth(
        int clusters,
        double deviation,
        double share = 0.95,
        double confidence = 0.95
    ) =>
        ToleranceFactor.TwoSided(clusters, clusters - 1, share, confidence)
        * deviation
        * ScaleExpectation.Of(clusters - 1, s => s);

    /// <summary>Chance that a two-sided tolerance interval comes out within ± limit.</summary>
    /// <param name="clusters">Clusters, at least 2; one reading each.</param>
    /// <param name="deviation">Standard deviation of a reading.</param>
    /// <param name="bias">True bias.</param>
    /// <param name="limit">Half width of what is allowed.</param>
    /// <param name="share">Share of readings.</param>
    /// <param name="confidence">Confidence.</param>
    public static double TolerancePower(
        int clusters,
        double deviation,
        double bias,
        double limit,
        double share = 0.95,
        double confidence = 0.95
    )
    {
        double k = ToleranceFactor.TwoSided(clusters, clusters - 1, share, confidence);
        double root = Math.Sqrt(clusters) / deviation;
        return ScaleExpectation.Of(
            clusters - 1,
            s =>
                Math.Max(
                    0,
                    NormalDistribution.Below((limit - bias - k * deviation * s) * root)
                        - NormalDistribution.Below((-limit - bias + k * deviation * s) * root)
                ),
            64
        );
    }

    /// <summary>Fewest clusters at which the tolerance interval comes out within ± limit with a chance.</summary>
    /// <param name="deviation">Standard deviation of a reading.</param>
    /// <param name="bias">True bias.</param>
    /// <param name="limit">Half width of what is allowed.</param>
    /// <param name="power">Chance, 0 to 1.</param>
    /// <param name="share">Share of readings.</param>
    /// <param name="confidence">Confidence.</param>
    /// <returns>Null when even the true interval does not fit.</returns>
    public static int? ToleranceClusters(
        double deviation,
        double bias,
        double limit,
        double power = 0.9,
        double share = 0.95,
        double confidence = 0.95
    )
    {
        double held =
            NormalDistribution.Below((limit - bias) / deviation)
            - NormalDistribution.Below((-limit - bias) / deviation);
        bool fits = held > share && Math.Abs(bias) + NormalDistribution.Quantile((1 + share) / 2) * deviation < limit;
        return fits ? Smallest(2, n => TolerancePower(n, deviation, bias, limit, share, confidence) >= power) : null;
    }

    /// <summary>Fewest features of one size that demonstrate a probability of detection: 29 without a miss, 46 with one, for 90 % with 95 % confidence.</summary>
    /// <param name="probability">Probability of detection to show.</param>
    /// <param name="confidence">One-sided confidence.</param>
    /// <param name="misses">Misses allowed.</param>
    public static int DemonstrationFeatures(double probability, double confidence, int misses)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(misses);
        return Smallest(misses + 1, n => BinomialInterval.Lower(n - misses, n, confidence) >= probability)
            ?? throw new ArgumentOutOfRangeException(nameof(probability), probability, $"More than {Most} features.");
    }

    /// <summary>Chance of passing such a demonstration.</summary>
    /// <param name="features">Features.</param>
    /// <param name="misses">Misses allowed.</param>
    /// <param name="trueProbability">True probability of detection.</param>
    public static double DemonstrationPower(int features, int misses, double trueProbability)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(misses);
        ArgumentOutOfRangeException.ThrowIfLessThan(features, 1);
        return misses >= features || trueProbability >= 1
            ? 1
            : SpecialFunctions.BetaRegularized(features - misses, misses + 1.0, trueProbability);
    }

    /// <summary>Upper end of the interval of a standard deviation over its estimate: what degrees of freedom buy.</summary>
    /// <param name="degreesOfFreedom">Degrees of freedom.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    public static double DeviationRatio(double degreesOfFreedom, double confidence = 0.95) =>
        Math.Sqrt(degreesOfFreedom / Quantile.ChiSquared((1 - confidence) / 2, degreesOfFreedom));

    /// <summary>Fewest degrees of freedom at which <see cref="DeviationRatio"/> is at most a ratio above 1.</summary>
    /// <param name="ratio">Ratio above 1.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    /// <returns>Null when no number up to <see cref="Most"/> suffices.</returns>
    public static int? DeviationDegreesOfFreedom(double ratio, double confidence = 0.95) =>
        ratio <= 1 ? null : Smallest(1, v => DeviationRatio(v, confidence) <= ratio);

    /// <summary>Factor by which readings in clusters are worth less, <c>1 + (m - 1) r</c> (Kish, Survey Sampling, 1965).</summary>
    /// <param name="readings">m, readings of a cluster.</param>
    /// <param name="intraclassCorrelation">r, 0 to 1.</param>
    public static double DesignEffect(double readings, double intraclassCorrelation) =>
        1 + (readings - 1) * intraclassCorrelation;

    /// <summary>Standard deviation of the mean of a cluster.</summary>
    /// <param name="between">Standard deviation between clusters.</param>
    /// <param name="within">Standard deviation of readings of one cluster.</param>
    /// <param name="readings">Readings of a cluster.</param>
    public static double ClusterMeanDeviation(double between, double within, double readings) =>
        Math.Sqrt(between * between + within * within / readings);

    /// <summary>Standard error of the mean error of a nested study.</summary>
    /// <param name="components">Standard deviations between blocks, features in a block, placements of a feature, and readings.</param>
    /// <param name="design">Blocks, features in each, placements of each, readings of each.</param>
    public static double MeanError(NestedDeviations components, NestedDesign design)
    {
        ArgumentNullException.ThrowIfNull(components);
        ArgumentNullException.ThrowIfNull(design);
        double b = design.Blocks;
        double f = b * design.FeaturesPerBlock;
        double p = f * design.PlacementsPerFeature;
        return Math.Sqrt(
            components.Blocks * components.Blocks / b
                + components.Features * components.Features / f
                + components.Placements * components.Placements / p
                + components.Readings * components.Readings / (p * design.ReadingsPerPlacement)
        );
    }

    /// <summary>The smallest count from a start at which a condition that stays true holds: doubling, then halving.</summary>
    private static int? Smallest(int from, Func<int, bool> enough)
    {
        int low = from - 1;
        int high = from;
        while (!enough(high))
        {
            low = high;
            if (high >= Most)
                return null;
            high = Math.Min(Most, high * 2);
        }
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            if (enough(middle))
                high = middle;
            else
                low = middle;
        }
        return high;
    }
}
