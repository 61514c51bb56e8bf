using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;
using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Normal tolerance intervals of single readings.</summary>
public static class ToleranceInterval
{
    /// <summary>Limits that hold a share of single readings with a confidence; for clusters, of readings of new clusters.</summary>
    /// <param name="sample">Errors. Where every cluster holds one value the exact factors are used.</param>
    /// <param name="share">Share of readings, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    /// <param name="side">Which ends.</param>
    /// <param name="leastClusters">Refused below; at least 2.</param>
    /// <returns>Value: the mean of the cluster means.</returns>
    /// <remarks>
    /// Clusters: one random factor. Two-sided after Hoffman and Kringle, J. Biopharmaceutical Statistics 15, 2005, with the modified large
    /// sample limit of the total variance; one-sided by the generalised pivot of Krishnamoorthy and Mathew, Technometrics 46, 2004,
    /// integrated instead of simulated. Unequal sizes by unweighted means.
    /// </remarks>
    public static Estimate Of(
        ClusteredSample sample,
        double share = 0.95,
        double confidence = 0.95,
        ToleranceSide side = ToleranceSide.Both,
        int leastClusters = Bias.LeastClusters
    )
    {
        ArgumentNullException.ThrowIfNull(sample);
        int g = sample.ClusterCount;
        (double mean, double variance) = Bias.Moments(sample.Means);
        const string method = "normal tolerance interval";
        if (g < Math.Max(2, leastClusters))
            return Estimate.Refused(method, mean, g, sample.Count, Refusal.Clusters(g, Math.Max(2, leastClusters)));
        if (OneWayAnalysis.Of(sample) is not { } analysis)
        {
            double k =
                side == ToleranceSide.Both
                    ? ToleranceFactor.TwoSided(g, g - 1, share, confidence)
                    : ToleranceFactor.OneSided(g, g - 1, share, confidence);
            return Made(method + ", exact factor (ISO 16269-6)", mean, k * Math.Sqrt(variance));
        }
        double within = analysis.WithinVariance;
        double between = Math.Max(0, variance - within / analysis.HarmonicSize);
        double ofMean = Math.Max(variance / g, 1e-300);
        if (side == ToleranceSide.Both)
        {
            double effective = Math.Max((between + within) / ofMean, 1);
            double half =
                NormalDistribution.Quantile((1 + share) / 2)
                * Math.Sqrt((1 + 1 / effective) * analysis.TotalVarianceUpper(confidence));
            return Made(method + " with variance components (Hoffman and Kringle 2005)", mean, half);
        }
        double z = NormalDistribution.Quantile(share);
        double inner = 1 - 1 / analysis.HarmonicSize;
        // P(pivot below d): d = Z sqrt(v / (g s_b²)) + z_p sqrt(v / s_b² + (1 - 1/h) w / s_e²).
        double Below(double d) =>
            ScaleExpectation.Of(
                g - 1,
                sb =>
                    ScaleExpectation.Of(
                        sample.Count - g,
                        se =>
                            NormalDistribution.Below(
                                (d - z * Math.Sqrt(variance / (sb * sb) + inner * within / (se * se)))
                                    * sb
                                    / Math.Sqrt(ofMean)
                            ),
                        4
                    ),
                5
            );
        double scale = Math.Sqrt(variance + inner * within);
        double high = scale;
        while (Below(high) < confidence)
            high *= 2;
        double low = high == scale ? -scale : high / 2;
        return Made(
            method + " with variance components, generalised pivot (Krishnamoorthy and Mathew 2004)",
            mean,
            Roots.Between(d => Below(d) - confidence, low, high, 1e-8)
        );

        Estimate Made(string how, double centre, double half) =>
            new(
                how,
                centre,
                Math.Sqrt(variance / g),
                new(
                    side == ToleranceSide.Upper ? double.NegativeInfinity : centre - half,
                    side == ToleranceSide.Lower ? double.PositiveInfinity : centre + half,
                    confidence
                ),
                g,
                sample.Count,
                g - 1
            );
    }
}
