using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>The accuracy of one group of readings: a thickness, a feature type, a zone, or all.</summary>
/// <param name="Name">Group.</param>
/// <param name="Bias">Mean error, cluster means.</param>
/// <param name="Deviation">Standard deviation of single errors, between and within clusters together.</param>
/// <param name="Within">Standard deviation within clusters; refused where no cluster has two readings.</param>
/// <param name="RootMeanSquare">Root mean square error of the readings.</param>
/// <param name="Largest">The error that is largest in size.</param>
/// <param name="Tolerance">Tolerance interval of single errors.</param>
/// <param name="Equivalence">Test of the bias against the claimed tolerance; null without one.</param>
public sealed record AccuracyStatement(
    string Name,
    Estimate Bias,
    Estimate Deviation,
    Estimate Within,
    double RootMeanSquare,
    double Largest,
    Estimate Tolerance,
    EquivalenceResult? Equivalence
)
{
    /// <summary>Describes errors.</summary>
    /// <param name="name">Group.</param>
    /// <param name="errors">Errors in clusters.</param>
    /// <param name="tolerance">Half width of the claimed tolerance, above 0; NaN for none.</param>
    /// <param name="confidence">Two-sided confidence of the intervals; also the confidence of the tolerance interval.</param>
    /// <param name="share">Share of readings that the tolerance interval holds.</param>
    public static AccuracyStatement Of(
        string name,
        ClusteredSample errors,
        double tolerance = double.NaN,
        double confidence = 0.95,
        double share = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(errors);
        Estimate bias = Accuracy.Bias.OfClusterMeans(errors, confidence);
        OneWayAnalysis? analysis = OneWayAnalysis.Of(errors);
        int g = errors.ClusterCount;
        double square = 0;
        double largest = 0;
        foreach (double error in errors.Values)
        {
            square += error * error / errors.Count;
            if (Math.Abs(error) > Math.Abs(largest))
                largest = error;
        }
        Estimate within =
            analysis?.Repeatability(confidence)
            ?? Estimate.Refused(
                "repeatability standard deviation",
                double.NaN,
                g,
                errors.Count,
                Refusal.Observations(1, 2, "readings in a cluster")
            );
        Estimate deviation =
            g < Accuracy.Bias.LeastClusters
                ? Estimate.Refused(
                    "standard deviation of errors",
                    analysis?.Reproducibility(confidence).Value
                        ?? Math.Sqrt(Accuracy.Bias.Moments(errors.Means).Variance),
                    g,
                    errors.Count,
                    Refusal.Clusters(g, Accuracy.Bias.LeastClusters)
                )
                : analysis?.Reproducibility(confidence) ?? Spread(errors, confidence);
        return new AccuracyStatement(
            name,
            bias,
            deviation,
            within,
            Math.Sqrt(square),
            largest,
            ToleranceInterval.Of(errors, share, confidence),
            double.IsNaN(tolerance) ? null : EquivalenceTest.Of(bias, -tolerance, tolerance, 1 - confidence)
        );
    }

    /// <summary>Describes every group of a factor that is constant within clusters, or splits them.</summary>
    /// <param name="observations">Readings.</param>
    /// <param name="groups">Group of each.</param>
    /// <param name="tolerance">Half width of the claimed tolerance; NaN for none.</param>
    /// <param name="confidence">Confidence of each statement by itself.</param>
    /// <param name="share">Share of readings of the tolerance interval.</param>
    /// <param name="areSimultaneous">Widen every statement so that all together hold with the confidence (Bonferroni).</param>
    public static IReadOnlyList<AccuracyStatement> ByGroup(
        IReadOnlyList<Observation> observations,
        Factor groups,
        double tolerance = double.NaN,
        double confidence = 0.95,
        double share = 0.95,
        bool areSimultaneous = false
    )
    {
        ArgumentNullException.ThrowIfNull(observations);
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count != observations.Count)
            throw new ArgumentException($"{observations.Count} observations, {groups.Count} groups.", nameof(groups));
        int many = groups.Levels.Count;
        double each = areSimultaneous ? 1 - (1 - confidence) / many : confidence;
        return groups
            .Levels.Select(
                (level, code) =>
                    Of(
                        level,
                        ClusteredSample.Errors(observations.Where((_, i) => groups.Codes[i] == code).ToArray()),
                        tolerance,
                        each,
                        share
                    )
            )
            .ToArray();
    }

    private static Estimate Spread(ClusteredSample errors, double confidence)
    {
        int g = errors.ClusterCount;
        double s = Math.Sqrt(Accuracy.Bias.Moments(errors.Means).Variance);
        double tail = (1 - confidence) / 2;
        double dof = g - 1;
        return new Estimate(
            "standard deviation of errors, chi-squared interval",
            s,
            s / Math.Sqrt(2 * dof),
            new(
                s * Math.Sqrt(dof / Numerics.Quantile.ChiSquared(1 - tail, dof)),
                s * Math.Sqrt(dof / Numerics.Quantile.ChiSquared(tail, dof)),
                confidence
            ),
            g,
            errors.Count,
            dof
        );
    }
}
