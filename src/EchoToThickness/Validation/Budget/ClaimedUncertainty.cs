using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Budget;

/// <summary>Claimed uncertainty against observed errors.</summary>
public sealed record ClaimedUncertainty
{
    /// <summary>Zeta scores, error over the combined standard uncertainty of reading and truth (ISO 13528), shape [observation].</summary>
    public required IReadOnlyList<double> ZetaScores { get; init; }

    /// <summary>Largest absolute E_n number: error over the combined expanded uncertainty; above 1 the claim fails for that reading (ISO/IEC 17043).</summary>
    public required double LargestNormalisedError { get; init; }

    /// <summary>Readings whose |E_n| is above 1.</summary>
    public required int ReadingsAboveOne { get; init; }

    /// <summary>Share of readings within ± k combined standard uncertainties, cluster-robust; exact binomial where every cluster holds one.</summary>
    public required Estimate Coverage { get; init; }

    /// <summary>Root mean square of the zeta scores: 1 when the claim is right, above when it is too small. Interval from the cluster-robust mean square.</summary>
    public required Estimate Ratio { get; init; }

    /// <summary>Probability of so large a sum of squared scores when the claim is right; refused reading by NaN where readings are clustered.</summary>
    public required double ChiSquaredProbability { get; init; }

    /// <summary>Compares.</summary>
    /// <param name="observations">Readings with truth and its uncertainty.</param>
    /// <param name="claimed">Claimed standard uncertainty of each reading, in the unit of the readings, above 0.</param>
    /// <param name="coverageFactor">k of the claim.</param>
    /// <param name="confidence">Two-sided confidence of the intervals.</param>
    public static ClaimedUncertainty Of(
        IReadOnlyList<Observation> observations,
        ReadOnlySpan<double> claimed,
        double coverageFactor = 2,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(observations);
        int n = observations.Count;
        if (claimed.Length != n)
            throw new ArgumentException($"{n} observations, {claimed.Length} uncertainties.", nameof(claimed));
        var z = new double[n];
        var within = new double[n];
        var square = new double[n];
        double sum = 0;
        for (int i = 0; i < n; i++)
        {
            if (!(claimed[i] > 0))
                throw new ArgumentOutOfRangeException(
                    nameof(claimed),
                    claimed[i],
                    "Claimed uncertainties are above 0."
                );
            double u = Math.Sqrt(
                claimed[i] * claimed[i] + observations[i].TruthUncertainty * observations[i].TruthUncertainty
            );
            z[i] = observations[i].Error / u;
            within[i] = Math.Abs(z[i]) <= coverageFactor ? 1 : 0;
            square[i] = z[i] * z[i];
            sum += square[i];
        }
        var clusters = new Factor("cluster", observations.Select(o => o.Cluster).ToArray());
        bool single = clusters.Levels.Count == n;
        Estimate coverage = Bias.OfReadings(new ClusteredSample(within, clusters), confidence);
        if (single)
            coverage = new Estimate(
                "exact binomial (Clopper and Pearson 1934)",
                within.Average(),
                double.NaN,
                BinomialInterval.ClopperPearson((long)within.Sum(), n, confidence),
                n,
                n,
                double.NaN
            );
        else if (coverage.Refusal == null)
            coverage = coverage with
            {
                Interval = new(Math.Max(0, coverage.Interval.Low), Math.Min(1, coverage.Interval.High), confidence),
            };
        Estimate mean = Bias.OfReadings(new ClusteredSample(square, clusters), confidence);
        double root = Math.Sqrt(mean.Value);
        // On the logarithm: a mean square is skewed, and an interval symmetric about it holds the truth less often than it says.
        double half = Math.Exp((mean.Interval.High - mean.Value) / mean.Value / 2);
        Estimate ratio = mean with
        {
            Method = "root mean square score, cluster-robust mean square, interval on the logarithm",
            Value = root,
            StandardError = mean.StandardError / (2 * root),
            Interval = mean.Refusal == null ? new(root / half, root * half, confidence) : ConfidenceInterval.None,
        };
        if (root == 0)
            ratio = Estimate.Refused(
                ratio.Method,
                0,
                ratio.Units,
                n,
                new Refusal(
                    RefusalReason.NoSpread,
                    0,
                    double.NaN,
                    "All errors are exactly 0; there is nothing to compare the claim with."
                )
            );
        else if (single && n > 1)
        {
            double tail = (1 - confidence) / 2;
            ratio = ratio with
            {
                Method = "root mean square score, chi-squared interval for normal errors",
                Interval = new(
                    Math.Sqrt(sum / Quantile.ChiSquared(1 - tail, n)),
                    Math.Sqrt(sum / Quantile.ChiSquared(tail, n)),
                    confidence
                ),
                DegreesOfFreedom = n,
                Refusal = null,
            };
        }
        return new ClaimedUncertainty
        {
            ZetaScores = z,
            LargestNormalisedError = z.Max(v => Math.Abs(v)) / coverageFactor,
            ReadingsAboveOne = z.Count(v => Math.Abs(v) > coverageFactor),
            Coverage = coverage,
            Ratio = ratio,
            ChiSquaredProbability = single ? Quantile.ChiSquaredAbove(sum, n) : double.NaN,
        };
    }
}
