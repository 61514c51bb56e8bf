using EchoToThickness.Validation.Accuracy;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Variance;

/// <summary>One random factor and repeats: repeatability and reproducibility (ISO 5725-2:2019, 7.4), equal or unequal numbers.</summary>
public sealed class OneWayAnalysis
{
    private readonly double[] _unweighted;
    private readonly double[] _dof;

    private OneWayAnalysis(ClusteredSample sample, MeanSquare between, MeanSquare within)
    {
        Between = between;
        Within = within;
        Groups = sample.ClusterCount;
        Count = sample.Count;
        double squares = 0;
        double harmonic = 0;
        foreach (int size in sample.Sizes)
        {
            squares += (double)size * size;
            harmonic += 1.0 / size;
        }
        MeanSize = (Count - squares / Count) / (Groups - 1.0);
        HarmonicSize = Groups / harmonic;
        (UnweightedMean, double variance) = Bias.Moments(sample.Means);
        // Unweighted sums of squares (Thomas and Hultquist, Annals of Statistics 6, 1978): h times the variance of the group means is
        // close to (h s_g² + s_e²) chi² / (g - 1), and equals the mean square between for equal sizes.
        _unweighted = [HarmonicSize * variance, within.Value];
        _dof = [between.DegreesOfFreedom, within.DegreesOfFreedom];
    }

    /// <summary>Line between groups.</summary>
    public MeanSquare Between { get; }

    /// <summary>Line within groups.</summary>
    public MeanSquare Within { get; }

    /// <summary>Groups.</summary>
    public int Groups { get; }

    /// <summary>Values.</summary>
    public int Count { get; }

    /// <summary>Number of repeats that belongs in the expected mean square, <c>(N - sum n² / N) / (g - 1)</c>.</summary>
    public double MeanSize { get; }

    /// <summary>Harmonic mean of the group sizes.</summary>
    public double HarmonicSize { get; }

    /// <summary>Mean of the group means.</summary>
    public double UnweightedMean { get; }

    /// <summary>Variance of one value about its group (repeatability variance).</summary>
    public double WithinVariance => Within.Value;

    /// <summary>Variance of the groups; 0 where the estimate would be negative.</summary>
    public double BetweenVariance => Math.Max(0, (Between.Value - Within.Value) / MeanSize);

    /// <summary>Share of the variance that belongs to the groups: the correlation of two values of one group.</summary>
    public double IntraclassCorrelation => BetweenVariance / (BetweenVariance + WithinVariance);

    /// <summary>Analyses a sample.</summary>
    /// <param name="sample">Values by group; at least two groups, and one with two values.</param>
    /// <returns>Null when there is no second group or no repeat.</returns>
    public static OneWayAnalysis? Of(ClusteredSample sample)
    {
        ArgumentNullException.ThrowIfNull(sample);
        int g = sample.ClusterCount;
        int n = sample.Count;
        if (g < 2 || n <= g)
            return null;
        (double mean, _) = Bias.Moments(sample.Values);
        double between = 0;
        for (int i = 0; i < g; i++)
            between += sample.Sizes[i] * (sample.Means[i] - mean) * (sample.Means[i] - mean);
        double within = 0;
        for (int i = 0; i < n; i++)
        {
            double off = sample.Values[i] - sample.Means[sample.Clusters[i]];
            within += off * off;
        }
        double f = between / (g - 1) / (within / (n - g));
        return new OneWayAnalysis(
            sample,
            new("between groups", between, g - 1, f, Quantile.FisherAbove(f, g - 1, n - g)),
            new("within groups", within, n - g)
        );
    }

    /// <summary>Repeatability standard deviation with its exact interval (chi-squared).</summary>
    /// <param name="confidence">Two-sided confidence.</param>
    public Estimate Repeatability(double confidence = 0.95)
    {
        double dof = Within.DegreesOfFreedom;
        double tail = (1 - confidence) / 2;
        double s = Math.Sqrt(WithinVariance);
        return new Estimate(
            "repeatability standard deviation (ISO 5725-2), chi-squared interval",
            s,
            s / Math.Sqrt(2 * dof),
            new(
                s * Math.Sqrt(dof / Quantile.ChiSquared(1 - tail, dof)),
                s * Math.Sqrt(dof / Quantile.ChiSquared(tail, dof)),
                confidence
            ),
            Groups,
            Count,
            dof
        );
    }

    /// <summary>Reproducibility standard deviation, groups and repeats together, with a modified large sample interval.</summary>
    /// <param name="confidence">Two-sided confidence.</param>
    public Estimate Reproducibility(double confidence = 0.95) =>
        Root(
            "reproducibility standard deviation (ISO 5725-2), modified large sample",
            BetweenVariance + WithinVariance,
            [1 / HarmonicSize, 1 - 1 / HarmonicSize],
            confidence
        );

    /// <summary>Standard deviation between groups, with a modified large sample interval; its lower end is 0 where the data allow none.</summary>
    /// <param name="confidence">Two-sided confidence.</param>
    public Estimate BetweenGroups(double confidence = 0.95) =>
        Root(
            "standard deviation between groups, modified large sample",
            BetweenVariance,
            [1 / HarmonicSize, -1 / HarmonicSize],
            confidence
        );

    /// <summary>Upper one-sided limit of the total variance, for tolerance intervals.</summary>
    internal double TotalVarianceUpper(double confidence) =>
        MeanSquareCombination.Upper([1 / HarmonicSize, 1 - 1 / HarmonicSize], _unweighted, _dof, confidence);

    /// <summary>Unweighted mean square between groups, then the mean square within.</summary>
    internal ReadOnlySpan<double> UnweightedMeanSquares => _unweighted;

    private Estimate Root(string method, double variance, double[] coefficients, double confidence)
    {
        ConfidenceInterval square = MeanSquareCombination.ModifiedLargeSample(
            coefficients,
            _unweighted,
            _dof,
            confidence
        );
        double dof = MeanSquareCombination.Satterthwaite(coefficients, _unweighted, _dof);
        // The estimate weighs groups by size, the interval does not; with equal sizes both agree. Else the interval is that of the ratio.
        double unweighted = coefficients[0] * _unweighted[0] + coefficients[1] * _unweighted[1];
        if (unweighted > 0 && variance > 0)
            square = square with
            {
                Low = square.Low * variance / unweighted,
                High = square.High * variance / unweighted,
            };
        return new Estimate(
            method,
            Math.Sqrt(variance),
            Math.Sqrt(variance) / Math.Sqrt(2 * dof),
            new(Math.Sqrt(Math.Max(square.Low, 0)), Math.Sqrt(Math.Max(square.High, 0)), confidence),
            Groups,
            Count,
            dof
        );
    }
}
