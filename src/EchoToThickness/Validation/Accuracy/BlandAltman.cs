using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;
using EchoToThickness.Validation.Variance;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Limits of agreement of two ways of measuring (Bland and Altman, Lancet i, 1986; repeated readings: J. Biopharmaceutical Statistics 17, 2007).</summary>
public sealed record BlandAltman
{
    /// <summary>Mean difference.</summary>
    public required Estimate Bias { get; init; }

    /// <summary>Standard deviation of a single difference.</summary>
    public required double Deviation { get; init; }

    /// <summary>Lower limit of agreement with its interval.</summary>
    public required Estimate LowerLimit { get; init; }

    /// <summary>Upper limit of agreement with its interval.</summary>
    public required Estimate UpperLimit { get; init; }

    /// <summary>Slope of the difference against the mean of both: not 0 where agreement changes with size. Null without such means.</summary>
    public Estimate? Trend { get; init; }

    /// <summary>Limits.</summary>
    /// <param name="differences">Differences; in clusters where one feature was read several times.</param>
    /// <param name="averages">Mean of both readings of each difference, for the trend; empty for none.</param>
    /// <param name="multiplier">Deviations from the mean to a limit: 1.96 since about 1999, 2 in the paper of 1986. NaN: exactly the 97.5 % point of the normal.</param>
    /// <param name="confidence">Two-sided confidence of the intervals of the limits.</param>
    /// <param name="useApproximation">The paper's standard error sqrt(3 s² / n) of a limit, for comparison with printed values; single differences only.</param>
    /// <remarks>
    /// Interval of a limit: by recovery of the variances of mean and deviation (Zou, Statistical Methods in Medical Research 22, 2013); for repeats with the
    /// modified large sample interval of the sum of both components.
    /// </remarks>
    public static BlandAltman Of(
        ClusteredSample differences,
        ReadOnlySpan<double> averages = default,
        double multiplier = double.NaN,
        double confidence = 0.95,
        bool useApproximation = false
    )
    {
        ArgumentNullException.ThrowIfNull(differences);
        double k = double.IsNaN(multiplier) ? NormalDistribution.Quantile(0.975) : multiplier;
        Estimate bias = Accuracy.Bias.OfClusterMeans(differences, confidence);
        OneWayAnalysis? analysis = OneWayAnalysis.Of(differences);
        int g = differences.ClusterCount;
        double variance;
        double low;
        double high;
        string method = "limit of agreement, recovery of variances (Zou 2013)";
        if (analysis == null)
        {
            variance = Accuracy.Bias.Moments(differences.Means).Variance;
            double tail = (1 - confidence) / 2;
            low = variance * (g - 1) / Quantile.ChiSquared(1 - tail, g - 1);
            high = variance * (g - 1) / Quantile.ChiSquared(tail, g - 1);
        }
        else
        {
            Estimate total = analysis.Reproducibility(confidence);
            variance = total.Value * total.Value;
            low = total.Interval.Low * total.Interval.Low;
            high = total.Interval.High * total.Interval.High;
            method += ", variance components of repeated readings";
        }
        double s = Math.Sqrt(variance);
        double mean = bias.Value;
        Estimate Limit(int side)
        {
            double centre = mean + side * k * s;
            if (bias.Refusal != null)
                return Estimate.Refused(method, centre, g, differences.Count, bias.Refusal);
            if (useApproximation && analysis == null)
            {
                double error = Math.Sqrt(3 * variance / g);
                return new Estimate(
                    "limit of agreement, standard error sqrt(3 s² / n) (Bland and Altman 1986)",
                    centre,
                    error,
                    ConfidenceInterval.About(centre, Quantile.Student((1 + confidence) / 2, g - 1) * error, confidence),
                    g,
                    differences.Count,
                    g - 1
                );
            }
            double half = bias.Interval.High - bias.Value;
            double outer = Math.Sqrt(half * half + k * k * Math.Pow(Math.Sqrt(high) - s, 2));
            double inner = Math.Sqrt(half * half + k * k * Math.Pow(s - Math.Sqrt(low), 2));
            return new Estimate(
                method,
                centre,
                double.NaN,
                side > 0
                    ? new(centre - inner, centre + outer, confidence)
                    : new(centre - outer, centre + inner, confidence),
                g,
                differences.Count,
                bias.DegreesOfFreedom
            );
        }
        Estimate? trend = null;
        if (!averages.IsEmpty)
        {
            double middle = Accuracy.Bias.Moments(averages).Mean;
            double[] column = averages.ToArray().Select(a => a - middle).ToArray();
            Factor clusters = new(
                "cluster",
                differences
                    .Clusters.ToArray()
                    .Select(c => c.ToString(System.Globalization.CultureInfo.InvariantCulture))
                    .ToArray()
            );
            trend = Effects
                .LinearModel.Fit(
                    differences.Values,
                    [Effects.LinearColumn.One(differences.Count), new("mean of both", column)],
                    confidence,
                    out _,
                    analysis == null ? null : clusters
                )
                ?.Coefficients[1];
        }
        return new BlandAltman
        {
            Bias = bias,
            Deviation = s,
            LowerLimit = Limit(-1),
            UpperLimit = Limit(1),
            Trend = trend,
        };
    }
}
