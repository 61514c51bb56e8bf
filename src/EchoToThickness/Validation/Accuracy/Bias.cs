using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Mean error with an interval that counts clusters.</summary>
public static class Bias
{
    /// <summary>Clusters below which no interval is given. Common practice, no source; the interval is exact for normal cluster means from 2 on.</summary>
    public const int LeastClusters = 5;

    /// <summary>Mean of the cluster means, every cluster alike, with Student's t on clusters - 1 degrees of freedom.</summary>
    /// <param name="sample">Errors.</param>
    /// <param name="confidence">Two-sided confidence, 0 to 1.</param>
    /// <param name="leastClusters">Refused below; at least 2.</param>
    public static Estimate OfClusterMeans(
        ClusteredSample sample,
        double confidence = 0.95,
        int leastClusters = LeastClusters
    )
    {
        ArgumentNullException.ThrowIfNull(sample);
        const string method = "mean of cluster means, Student's t";
        (double mean, double variance) = Moments(sample.Means);
        int g = sample.ClusterCount;
        if (g < Math.Max(leastClusters, 2))
            return Estimate.Refused(method, mean, g, sample.Count, Refusal.Clusters(g, Math.Max(leastClusters, 2)));
        double error = Math.Sqrt(variance / g);
        double half = Quantile.Student((1 + confidence) / 2, g - 1) * error;
        return new Estimate(
            method,
            mean,
            error,
            ConfidenceInterval.About(mean, half, confidence),
            g,
            sample.Count,
            g - 1
        );
    }

    /// <summary>Mean of all readings with the cluster-robust variance CR2 and Satterthwaite degrees of freedom.</summary>
    /// <param name="sample">Errors.</param>
    /// <param name="confidence">Two-sided confidence, 0 to 1.</param>
    /// <param name="leastClusters">Refused below; at least 2.</param>
    /// <remarks>Bell and McCaffrey, Survey Methodology 28, 2002. Large clusters weigh more than small ones.</remarks>
    public static Estimate OfReadings(
        ClusteredSample sample,
        double confidence = 0.95,
        int leastClusters = LeastClusters
    )
    {
        ArgumentNullException.ThrowIfNull(sample);
        const string method = "mean of readings, cluster-robust CR2 (Bell and McCaffrey 2002)";
        int g = sample.ClusterCount;
        double n = sample.Count;
        (double mean, _) = Moments(sample.Values);
        if (g < Math.Max(leastClusters, 2))
            return Estimate.Refused(method, mean, g, sample.Count, Refusal.Clusters(g, Math.Max(leastClusters, 2)));
        double variance = 0;
        double trace = 0;
        double square = 0;
        // With a_i = 1 / sqrt(1 - n_i / n): the quadratic form has matrix entries d_ij n_i a_i² - n_i n_j a_i a_j / n (times 1 / n²).
        var a = new double[g];
        for (int i = 0; i < g; i++)
        {
            double size = sample.Sizes[i];
            a[i] = 1 / Math.Sqrt(1 - size / n);
            double sum = size * (sample.Means[i] - mean) * a[i];
            variance += sum * sum / (n * n);
        }
        for (int i = 0; i < g; i++)
        for (int j = 0; j < g; j++)
        {
            double entry =
                (i == j ? sample.Sizes[i] * a[i] * a[i] : 0) - sample.Sizes[i] * sample.Sizes[j] * a[i] * a[j] / n;
            square += entry * entry;
            if (i == j)
                trace += entry;
        }
        double dof = trace * trace / square;
        double error = Math.Sqrt(variance);
        double half = Quantile.Student((1 + confidence) / 2, dof) * error;
        return new Estimate(
            method,
            mean,
            error,
            ConfidenceInterval.About(mean, half, confidence),
            g,
            sample.Count,
            dof
        );
    }

    /// <summary>Mean and variance (n - 1) in two passes about the first value.</summary>
    internal static (double Mean, double Variance) Moments(ReadOnlySpan<double> values)
    {
        int n = values.Length;
        double first = values[0];
        double sum = 0;
        foreach (double value in values)
            sum += value - first;
        double mean = first + sum / n;
        double squares = 0;
        double rest = 0;
        foreach (double value in values)
        {
            squares += (value - mean) * (value - mean);
            rest += value - mean;
        }
        return (mean, n > 1 ? (squares - rest * rest / n) / (n - 1) : double.NaN);
    }
}
