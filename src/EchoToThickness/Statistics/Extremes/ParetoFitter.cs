using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Fits generalised Pareto distributions to excesses.</summary>
public static class ParetoFitter
{
    /// <summary>Maximum likelihood, penalised where the rule says so.</summary>
    /// <param name="values">Values above the threshold; others are left out.</param>
    /// <param name="threshold">Threshold; strict.</param>
    /// <param name="rule">What the shape may do.</param>
    /// <param name="withCovariance">False saves the second derivatives and stops at four digits: for bootstrap samples.</param>
    /// <param name="noiseDeviation">Deviation of normal noise, independent from value to value, that the fit takes out.</param>
    /// <exception cref="StatisticsException">Fewer than three excesses.</exception>
    /// <remarks>
    /// Source: Coles 2001, eq. 4.10; minimum by the simplex, exponential in closed form. With noise a noisy excess has the density
    /// <c>-d/dy E t(y - e)</c> over <c>E t(-e)</c> (<see cref="NoisyTail"/>); exponential excesses keep their distribution.
    /// </remarks>
    public static ParetoFit MaximumLikelihood(
        ReadOnlySpan<double> values,
        double threshold,
        ShapeRule rule,
        bool withCovariance = true,
        double noiseDeviation = 0
    )
    {
        ArgumentNullException.ThrowIfNull(rule);
        double[] excess = Excesses(values, threshold);
        double mean = excess.Average();
        double scale = mean;
        double shape = rule.IsFixed ? rule.Centre : 0;
        if (!(rule.IsFixed && rule.Centre == 0))
        {
            double Likelihood(double[] p)
            {
                double free = rule.IsFixed ? rule.Centre : p[1];
                return free <= -1
                    ? double.PositiveInfinity
                    : Likely(excess, mean * Math.Exp(p[0]), free, noiseDeviation) + rule.Penalty(free);
            }
            double[] start = rule.IsFixed ? [0] : [0, 0];
            double[] step = rule.IsFixed ? [0.1] : [0.1, 0.1];
            if (rule.IsFixed && rule.Centre < 0)
                start[0] = Math.Log(Math.Max(1, -rule.Centre * excess.Max() / mean * 1.01));
            (double[] best, _) = Simplex.Minimise(
                Likelihood,
                start,
                step,
                withCovariance ? 1e-11 : 1e-7,
                withCovariance ? 2 : 0
            );
            scale = mean * Math.Exp(best[0]);
            if (!rule.IsFixed)
                shape = best[1];
        }
        return new ParetoFit
        {
            Distribution = new GeneralisedPareto(threshold, scale, shape),
            Rule = rule,
            Method = "maximum likelihood, " + rule.Name,
            Count = excess.Length,
            NegativeLogLikelihood = Likely(excess, scale, shape, noiseDeviation),
            Covariance = withCovariance ? Covariance(excess, rule, scale, shape, noiseDeviation) : null,
        };
    }

    /// <summary>L-moments of the excesses: <c>shape = 2 - l1 / l2</c>, <c>scale = l1 (1 - shape)</c>.</summary>
    /// <param name="values">Values above the threshold; others are left out.</param>
    /// <param name="threshold">Threshold; strict.</param>
    /// <remarks>Source: Hosking and Wallis, Technometrics 29 (1987) 339 (their shape has the opposite sign).</remarks>
    public static ParetoFit LMoments(ReadOnlySpan<double> values, double threshold)
    {
        double[] excess = Excesses(values, threshold);
        SampleLMoments moments = SampleLMoments.Of(excess);
        double shape = 2 - moments.First / moments.Second;
        double scale = moments.First * (1 - shape);
        return new ParetoFit
        {
            Distribution = new GeneralisedPareto(threshold, scale, shape),
            Rule = ShapeRule.Free,
            Method = "L-moments",
            Count = excess.Length,
            NegativeLogLikelihood = NegativeLogLikelihood(excess, scale, shape),
            Covariance = null,
        };
    }

    /// <summary>Mean excess over a threshold: a straight line in the threshold where the distribution fits (Coles 2001, 4.3.1); NaN without excess.</summary>
    /// <param name="values">Values.</param>
    /// <param name="threshold">Threshold; strict.</param>
    public static double MeanExcess(ReadOnlySpan<double> values, double threshold)
    {
        double sum = 0;
        int count = 0;
        foreach (double value in values)
            if (value > threshold)
            {
                sum += value - threshold;
                count++;
            }
        return count == 0 ? double.NaN : sum / count;
    }

    internal static double NegativeLogLikelihood(double[] excess, double scale, double shape)
    {
        double sum = excess.Length * Math.Log(scale);
        foreach (double y in excess)
        {
            if (shape == 0)
            {
                sum += y / scale;
                continue;
            }
            double z = shape * y / scale;
            if (z <= -1)
                return double.PositiveInfinity;
            sum += (1 / shape + 1) * GeneralisedExtremeValue.LogOnePlus(z);
        }
        return double.IsNaN(sum) ? double.PositiveInfinity : sum;
    }

    private static double Likely(double[] excess, double scale, double shape, double noise)
    {
        if (noise == 0)
            return NegativeLogLikelihood(excess, scale, shape);
        var tail = new NoisyTail(new GeneralisedExtremeValue(0, scale, shape), noise);
        double sum = excess.Length * Math.Log(tail.Hazard(0));
        foreach (double y in excess)
            sum -= Math.Log(tail.At(y).Density);
        return double.IsNaN(sum) ? double.PositiveInfinity : sum;
    }

    private static double[,]? Covariance(double[] excess, ShapeRule rule, double scale, double shape, double noise)
    {
        double Likelihood(double[] p)
        {
            double free = rule.IsFixed ? rule.Centre : p[1];
            return Likely(excess, scale * p[0], free, noise) + rule.Penalty(free);
        }
        double size = 0.02 / Math.Sqrt(excess.Length);
        double[,]? inverse = Curvature.Inverse(
            Curvature.Hessian(Likelihood, rule.IsFixed ? [1] : [1, shape], rule.IsFixed ? [size] : [size, size])
        );
        if (inverse is null)
            return null;
        var covariance = new double[2, 2];
        covariance[0, 0] = inverse[0, 0] * scale * scale;
        if (!rule.IsFixed)
        {
            covariance[0, 1] = inverse[0, 1] * scale;
            covariance[1, 0] = covariance[0, 1];
            covariance[1, 1] = inverse[1, 1];
        }
        return covariance;
    }

    private static double[] Excesses(ReadOnlySpan<double> values, double threshold)
    {
        var excess = new List<double>();
        foreach (double value in values)
            if (value > threshold)
                excess.Add(value - threshold);
        return excess.Count >= 3
            ? excess.ToArray()
            : throw new StatisticsException(
                FormattableString.Invariant($"{excess.Count} values exceed the threshold of {threshold}."),
                "threshold fit",
                "lower the threshold of the loss, so that at least three values exceed it"
            );
    }
}
