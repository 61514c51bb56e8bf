using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Numerics;
using MathNet.Numerics;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Fits Gumbel and generalised extreme-value distributions to block maxima.</summary>
public static class GevFitter
{
    private const double Euler = 0.57721566490153286;

    /// <summary>Maximum likelihood, penalised where the rule says so.</summary>
    /// <param name="sample">At least three values that differ.</param>
    /// <param name="rule">What the shape may do.</param>
    /// <param name="withCovariance">False saves the second derivatives and, but for Gumbel, stops at four digits: for bootstrap samples.</param>
    /// <exception cref="StatisticsException">Too few values, or all equal.</exception>
    /// <remarks>
    /// Log-likelihood of a block of exposure c: <c>ln c - ln scale + (shape + 1) ln t - c t</c> with <c>t</c> =
    /// <see cref="GeneralisedExtremeValue.Hazard"/> (Coles 2001, eq. 3.7, raised to the power c). The shape is kept above -1, where the
    /// likelihood has no maximum. Gumbel by one equation in the scale; else simplex. Covariance: inverse of the observed information. Where
    /// the sample states noise, t and its density are those of <see cref="NoisyTail"/> and the fit is the distribution without noise.
    /// </remarks>
    public static ExtremeFit MaximumLikelihood(BlockSample sample, ShapeRule rule, bool withCovariance = true)
    {
        ArgumentNullException.ThrowIfNull(sample);
        ArgumentNullException.ThrowIfNull(rule);
        (double centre, double spread) = Standard(sample);
        bool isGumbel = rule is { IsFixed: true, Centre: 0 };
        GeneralisedExtremeValue gumbel = Gumbel(sample, centre, spread);
        // Noise moves a Gumbel distribution and leaves its scale: the fit is the plain one, moved back.
        double shift = sample.NoiseDeviation * sample.NoiseDeviation / (2 * gumbel.Scale);
        gumbel = gumbel with { Location = gumbel.Location - shift };
        double[] start =
        [
            (gumbel.Location - centre) / spread,
            Math.Log(gumbel.Scale / spread),
            rule.IsFixed ? rule.Centre : 0,
        ];
        double Likelihood(double[] p)
        {
            double shape = rule.IsFixed ? rule.Centre : p[2];
            return shape <= -1
                ? double.PositiveInfinity
                : NegativeLogLikelihood(
                    sample,
                    new GeneralisedExtremeValue(centre + spread * p[0], spread * Math.Exp(p[1]), shape)
                ) + rule.Penalty(shape);
        }
        double[] best = start;
        if (!isGumbel)
        {
            double[] seed = rule.IsFixed ? start[..2] : start;
            double[] step = rule.IsFixed ? [0.2, 0.15] : [0.2, 0.15, 0.1];
            // Samples of a bootstrap need four digits, not ten.
            (best, _) = Simplex.Minimise(Likelihood, seed, step, withCovariance ? 1e-11 : 1e-7, withCovariance ? 2 : 0);
        }
        var found = new GeneralisedExtremeValue(
            centre + spread * best[0],
            spread * Math.Exp(best[1]),
            rule.IsFixed ? rule.Centre : best[2]
        );
        return new ExtremeFit
        {
            Distribution = found,
            Rule = rule,
            Method = "maximum likelihood, " + rule.Name,
            Count = sample.Count,
            NegativeLogLikelihood = NegativeLogLikelihood(sample, found),
            Covariance = withCovariance ? Covariance(sample, rule, found) : null,
        };
    }

    /// <summary>L-moments: Gumbel exactly, otherwise Hosking's approximation to the shape (error below 9e-4 for |shape| &lt; 0.5).</summary>
    /// <param name="values">At least three values.</param>
    /// <param name="isGumbel">Whether the shape is 0.</param>
    /// <remarks>Source: Hosking, Wallis and Wood, Technometrics 27 (1985) 251; Hosking and Wallis, Regional Frequency Analysis, 1997.</remarks>
    public static ExtremeFit LMoments(ReadOnlySpan<double> values, bool isGumbel)
    {
        SampleLMoments moments = SampleLMoments.Of(values);
        GeneralisedExtremeValue found;
        if (isGumbel)
        {
            double scale = moments.Second / Math.Log(2);
            found = new GeneralisedExtremeValue(moments.First - Euler * scale, scale, 0);
        }
        else
        {
            double c = 2 / (3 + moments.Skewness) - Math.Log(2) / Math.Log(3);
            double k = 7.8590 * c + 2.9554 * c * c;
            double gamma = SpecialFunctions.Gamma(1 + k);
            double scale = moments.Second * k / ((1 - Math.Pow(2, -k)) * gamma);
            found = new GeneralisedExtremeValue(moments.First - scale * (1 - gamma) / k, scale, -k);
        }
        return new ExtremeFit
        {
            Distribution = found,
            Rule = isGumbel ? ShapeRule.Gumbel : ShapeRule.Free,
            Method = isGumbel ? "L-moments, Gumbel" : "L-moments",
            Count = values.Length,
            NegativeLogLikelihood = NegativeLogLikelihood(new BlockSample(values), found),
            Covariance = null,
        };
    }

    /// <summary>Gumbel by least squares on probability paper: ordered values against <c>-ln(-ln p)</c> with Gringorten's positions.</summary>
    /// <param name="values">At least three values that differ.</param>
    /// <remarks>Source: Gringorten, J. Geophys. Res. 68 (1963) 813: <c>p = (k - 0.44) / (n + 0.12)</c>.</remarks>
    public static ExtremeFit GumbelLeastSquares(ReadOnlySpan<double> values)
    {
        Check(values.Length, values.Length > 0 && values.ContainsAnyExcept(values[0]));
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        int n = sorted.Length;
        var reduced = new double[n];
        for (int k = 0; k < n; k++)
            reduced[k] = -Math.Log(-Math.Log((k + 1 - 0.44) / (n + 0.12)));
        double meanX = reduced.Average();
        double meanY = sorted.Average();
        double cross = 0;
        double squares = 0;
        for (int k = 0; k < n; k++)
        {
            cross += (reduced[k] - meanX) * (sorted[k] - meanY);
            squares += (reduced[k] - meanX) * (reduced[k] - meanX);
        }
        double scale = cross / squares;
        var found = new GeneralisedExtremeValue(meanY - scale * meanX, scale, 0);
        return new ExtremeFit
        {
            Distribution = found,
            Rule = ShapeRule.Gumbel,
            Method = "least squares on Gumbel paper",
            Count = n,
            NegativeLogLikelihood = NegativeLogLikelihood(new BlockSample(values), found),
            Covariance = null,
        };
    }

    /// <summary>Gumbel by moments: scale <c>s sqrt(6) / pi</c>, location <c>mean - 0.5772 scale</c>.</summary>
    /// <param name="values">At least three values.</param>
    public static ExtremeFit GumbelMoments(ReadOnlySpan<double> values)
    {
        WeightedMoments moments = WeightedMoments.Of(values);
        Check(values.Length, moments.StandardDeviation > 0);
        double scale = moments.StandardDeviation * Math.Sqrt(6) / Math.PI;
        var found = new GeneralisedExtremeValue(moments.Mean - Euler * scale, scale, 0);
        return new ExtremeFit
        {
            Distribution = found,
            Rule = ShapeRule.Gumbel,
            Method = "moments, Gumbel",
            Count = values.Length,
            NegativeLogLikelihood = NegativeLogLikelihood(new BlockSample(values), found),
            Covariance = null,
        };
    }

    /// <summary>Negative log-likelihood; infinity where a value is impossible.</summary>
    /// <param name="sample">Sample.</param>
    /// <param name="distribution">Distribution of a block of exposure 1.</param>
    public static double NegativeLogLikelihood(BlockSample sample, GeneralisedExtremeValue distribution)
    {
        ArgumentNullException.ThrowIfNull(sample);
        double sum = -sample.LogExposureSum;
        if (sample.NoiseDeviation > 0)
        {
            var tail = new NoisyTail(distribution, sample.NoiseDeviation);
            for (int k = 0; k < sample.Count; k++)
            {
                (double hazard, double density) = tail.At(sample.Values[k]);
                sum += sample.Weights[k] * (sample.Exposures[k] * hazard - Math.Log(density));
            }
            return double.IsNaN(sum) ? double.PositiveInfinity : sum;
        }
        double shape = distribution.Shape;
        double logScale = Math.Log(distribution.Scale);
        for (int k = 0; k < sample.Count; k++)
        {
            if (sample.Weights[k] == 0)
                continue;
            double z = (sample.Values[k] - distribution.Location) / distribution.Scale;
            double logHazard = -z;
            if (shape != 0)
            {
                double y = shape * z;
                if (y <= -1)
                    return double.PositiveInfinity;
                logHazard = -GeneralisedExtremeValue.LogOnePlus(y) / shape;
            }
            double exposure = sample.Exposures[k];
            sum += sample.Weights[k] * (logScale - (shape + 1) * logHazard + exposure * Math.Exp(logHazard));
        }
        return double.IsNaN(sum) ? double.PositiveInfinity : sum;
    }

    /// <summary>Gumbel's likelihood equations: one in the scale, the location follows.</summary>
    private static GeneralisedExtremeValue Gumbel(BlockSample sample, double centre, double spread)
    {
        double Residual(double scale)
        {
            (double tilted, _, double mean) = Tilted(sample, centre, scale);
            return scale - mean + tilted;
        }
        double low = 0.02 * spread;
        double high = 2 * spread;
        while (Residual(high) < 0 && high < 1e6 * spread)
            high *= 2;
        while (Residual(low) > 0 && low > 1e-9 * spread)
            low /= 2;
        double found = Roots.Between(Residual, low, high, 1e-12);
        if (double.IsNaN(found))
            found = 0.78 * spread;
        (_, double logSum, _) = Tilted(sample, centre, found);
        return new GeneralisedExtremeValue(centre - found * logSum, found, 0);
    }

    /// <summary>Mean of the values under the weights <c>w c exp(-x / scale)</c>, the logarithm of their share, and the plain mean, about the centre.</summary>
    private static (double TiltedMean, double LogShare, double Mean) Tilted(
        BlockSample sample,
        double centre,
        double scale
    )
    {
        double least = double.PositiveInfinity;
        foreach (double value in sample.Values)
            least = Math.Min(least, value - centre);
        double sum = 0;
        double product = 0;
        double weights = 0;
        double mean = 0;
        for (int k = 0; k < sample.Count; k++)
        {
            double x = sample.Values[k] - centre;
            double weight = sample.Weights[k] * sample.Exposures[k] * Math.Exp(-(x - least) / scale);
            sum += weight;
            product += weight * x;
            weights += sample.Weights[k];
            mean += sample.Weights[k] * x;
        }
        return (product / sum, Math.Log(sum / weights) - least / scale, mean / weights);
    }

    private static double[,]? Covariance(BlockSample sample, ShapeRule rule, GeneralisedExtremeValue found)
    {
        double scale = found.Scale;
        double Likelihood(double[] p)
        {
            double shape = rule.IsFixed ? rule.Centre : p[2];
            return p[1] <= 0
                ? double.PositiveInfinity
                : NegativeLogLikelihood(
                    sample,
                    new GeneralisedExtremeValue(found.Location + scale * p[0], scale * p[1], shape)
                ) + rule.Penalty(shape);
        }
        double[] point = rule.IsFixed ? [0, 1] : [0, 1, found.Shape];
        double size = 0.02 / Math.Sqrt(sample.Count);
        double[] step = rule.IsFixed ? [size, size] : [size, size, size];
        double[,]? inverse = Curvature.Inverse(Curvature.Hessian(Likelihood, point, step));
        if (inverse is null)
            return null;
        var covariance = new double[3, 3];
        for (int i = 0; i < point.Length; i++)
        for (int j = 0; j < point.Length; j++)
            covariance[i, j] = inverse[i, j] * (i < 2 ? scale : 1) * (j < 2 ? scale : 1);
        return covariance;
    }

    private static (double Centre, double Spread) Standard(BlockSample sample)
    {
        double weight = 0;
        double mean = 0;
        for (int k = 0; k < sample.Count; k++)
        {
            weight += sample.Weights[k];
            mean += sample.Weights[k] * sample.Values[k];
        }
        mean /= weight;
        double squares = 0;
        for (int k = 0; k < sample.Count; k++)
            squares += sample.Weights[k] * (sample.Values[k] - mean) * (sample.Values[k] - mean);
        double spread = Math.Sqrt(squares / weight);
        Check(sample.Count, spread > 0);
        return (mean, spread);
    }

    private static void Check(int count, bool differ)
    {
        if (count < 3 || !differ)
            throw new StatisticsException(
                count < 3
                    ? FormattableString.Invariant($"An extreme-value fit to {count} values.")
                    : "All block values are equal, or have no weight.",
                "extreme-value fit",
                "use smaller blocks or a larger map"
            );
    }
}
