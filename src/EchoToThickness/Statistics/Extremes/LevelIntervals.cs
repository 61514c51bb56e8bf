using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Intervals for a quantile of fitted block maxima.</summary>
public static class LevelIntervals
{
    /// <summary>Delta method: symmetric, from the observed information. Too short for far levels; for comparison.</summary>
    /// <param name="fit">Fit with a covariance.</param>
    /// <param name="probability">Quantile of one block.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    /// <returns>NaN ends when the covariance is not known.</returns>
    public static LevelInterval Delta(ExtremeFit fit, double probability, double confidence = 0.95)
    {
        double level = fit.Distribution.Quantile(probability);
        double half = NormalDistribution.Quantile(0.5 + confidence / 2) * DeltaStandardError(fit, probability);
        return new LevelInterval(level, level - half, level + half, confidence, "delta method");
    }

    /// <summary>Standard error of a quantile by the delta method; NaN when the covariance is not known.</summary>
    /// <param name="fit">Fit.</param>
    /// <param name="probability">Quantile of one block.</param>
    public static double DeltaStandardError(ExtremeFit fit, double probability)
    {
        ArgumentNullException.ThrowIfNull(fit);
        if (fit.Covariance is null)
            return double.NaN;
        GeneralisedExtremeValue d = fit.Distribution;
        double log = -Math.Log(-Math.Log(probability));
        double h = 1e-4;
        double ByShape(double shape) => (d with { Shape = shape }).Quantile(probability);
        double[] gradient =
        [
            1,
            d.Shape == 0 ? log : GeneralisedExtremeValue.ExpMinusOne(d.Shape * log) / d.Shape,
            fit.Rule.IsFixed ? 0 : (ByShape(d.Shape + h) - ByShape(d.Shape - h)) / (2 * h),
        ];
        return Math.Sqrt(Curvature.Form(gradient, fit.Covariance));
    }

    /// <summary>Profile likelihood: levels that the likelihood does not reject.</summary>
    /// <param name="sample">The sample of the fit.</param>
    /// <param name="fit">Maximum-likelihood fit.</param>
    /// <param name="probability">Quantile of one block.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    /// <returns>An end that was not found within 200 scales is infinite.</returns>
    /// <remarks>Source: Coles 2001, 2.6.6 and 3.3.3; the penalty of the rule counts as part of the likelihood.</remarks>
    public static LevelInterval Profile(
        BlockSample sample,
        ExtremeFit fit,
        double probability,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(sample);
        ArgumentNullException.ThrowIfNull(fit);
        GeneralisedExtremeValue d = fit.Distribution;
        ShapeRule rule = fit.Rule;
        double level = d.Quantile(probability);
        double hazard = -Math.Log(probability);
        double limit = fit.NegativeLogLikelihood + rule.Penalty(d.Shape) + 0.5 * ChiSquared(confidence);
        double[] start = rule.IsFixed ? [0] : [0, d.Shape];
        double Excess(double z)
        {
            double Likelihood(double[] p)
            {
                double scale = d.Scale * Math.Exp(p[0]);
                double shape = rule.IsFixed ? rule.Centre : p[1];
                if (shape <= -1)
                    return double.PositiveInfinity;
                var unit = new GeneralisedExtremeValue(0, scale, shape);
                return GevFitter.NegativeLogLikelihood(sample, unit with { Location = z - unit.AtHazard(hazard) })
                    + rule.Penalty(shape);
            }
            double[] from = start;
            // Where the start is impossible a wider scale is not.
            for (int k = 0; k < 40 && double.IsInfinity(Likelihood(from)); k++)
                from = rule.IsFixed ? [from[0] + 0.2] : [from[0] + 0.2, from[1] * 0.7];
            (double[] best, double value) = Simplex.Minimise(
                Likelihood,
                from,
                rule.IsFixed ? [0.1] : [0.1, 0.05],
                1e-10
            );
            start = best;
            return value - limit;
        }
        double End(int direction)
        {
            start = rule.IsFixed ? [0] : [0, d.Shape];
            double inner = level;
            double step = 0.25 * d.Scale;
            for (int k = 0; k < 40; k++)
            {
                double outer = inner + direction * step;
                if (Math.Abs(outer - level) > 200 * d.Scale)
                    break;
                if (Excess(outer) > 0)
                    return Roots.Between(Excess, inner, outer, 1e-7);
                inner = outer;
                step *= 1.3;
            }
            return direction * double.PositiveInfinity;
        }
        return new LevelInterval(level, End(-1), End(1), confidence, "profile likelihood");
    }

    /// <summary>Profile-likelihood interval of the shape.</summary>
    /// <param name="sample">The sample of the fit.</param>
    /// <param name="fit">Maximum-likelihood fit with a shape that is not fixed.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    public static LevelInterval ShapeProfile(BlockSample sample, ExtremeFit fit, double confidence = 0.95)
    {
        ArgumentNullException.ThrowIfNull(fit);
        double shape = fit.Distribution.Shape;
        double limit = fit.NegativeLogLikelihood + fit.Rule.Penalty(shape) + 0.5 * ChiSquared(confidence);
        double Excess(double value) =>
            GevFitter.MaximumLikelihood(sample, new ShapeRule("fixed", true, value, 0)).NegativeLogLikelihood
            + fit.Rule.Penalty(value)
            - limit;
        double End(int direction)
        {
            for (double step = 0.1; step < 2; step += 0.1)
                if (shape + direction * step <= -0.99)
                    return -1;
                else if (Excess(shape + direction * step) > 0)
                    return Roots.Between(Excess, shape + direction * (step - 0.1), shape + direction * step, 1e-7);
            return direction * double.PositiveInfinity;
        }
        return new LevelInterval(shape, End(-1), End(1), confidence, "profile likelihood");
    }

    /// <summary>Parametric bootstrap: percentiles of the level over samples drawn from the fit and fitted again.</summary>
    /// <param name="replicates">From <see cref="Replicates"/>.</param>
    /// <param name="fit">The fit.</param>
    /// <param name="probability">Quantile of one block.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    public static LevelInterval Bootstrap(
        IReadOnlyList<GeneralisedExtremeValue> replicates,
        ExtremeFit fit,
        double probability,
        double confidence = 0.95
    )
    {
        ArgumentNullException.ThrowIfNull(fit);
        double[] levels = replicates.Select(d => d.Quantile(probability)).Order().ToArray();
        return new LevelInterval(
            fit.Distribution.Quantile(probability),
            Quantiles.Of(levels, 0.5 - confidence / 2),
            Quantiles.Of(levels, 0.5 + confidence / 2),
            confidence,
            FormattableString.Invariant($"parametric bootstrap, {levels.Length} samples")
        );
    }

    /// <summary>Distributions fitted to samples drawn from a fit.</summary>
    /// <param name="sample">Gives number, weights and exposures of the values.</param>
    /// <param name="fit">The fit.</param>
    /// <param name="count">Samples.</param>
    /// <param name="seed">Seed; the same seed gives the same samples on any machine.</param>
    public static IReadOnlyList<GeneralisedExtremeValue> Replicates(
        BlockSample sample,
        ExtremeFit fit,
        int count,
        ulong seed
    )
    {
        ArgumentNullException.ThrowIfNull(sample);
        ArgumentNullException.ThrowIfNull(fit);
        // A value whose weight is a share of a block is drawn as a whole block: as many draws as the weights add up to.
        double weight = 0;
        foreach (double w in sample.Weights)
            weight += w;
        int draws = Math.Max(3, (int)Math.Round(weight));
        var replicates = new GeneralisedExtremeValue[count];
        Func<double, double> quantile = new NoisyTail(fit.Distribution, sample.NoiseDeviation).Inverse();
        Parallel.For(
            0,
            count,
            k =>
            {
                var values = new double[draws];
                var exposures = new double[draws];
                var random = new StatisticsRandom(seed, (ulong)k);
                for (int j = 0; j < draws; j++)
                {
                    exposures[j] = sample.Exposures[draws == sample.Count ? j : random.Below(sample.Count)];
                    values[j] = quantile(-Math.Log(random.Uniform()) / exposures[j]);
                }
                replicates[k] = GevFitter
                    .MaximumLikelihood(
                        new BlockSample(values, default, exposures, sample.NoiseDeviation),
                        fit.Rule,
                        false
                    )
                    .Distribution;
            }
        );
        return replicates;
    }

    /// <summary>The value that the maximum over many blocks does not exceed, with the uncertainty of the fit mixed in.</summary>
    /// <param name="replicates">From <see cref="Replicates"/>.</param>
    /// <param name="blocks">Number of blocks, above zero.</param>
    /// <param name="probability">Probability of not exceeding.</param>
    /// <remarks>Bootstrap-predictive: the root of the mean over the replicates of <c>F(z)^blocks</c> less the probability.</remarks>
    public static double PredictiveUpper(
        IReadOnlyList<GeneralisedExtremeValue> replicates,
        double blocks,
        double probability
    )
    {
        ArgumentNullException.ThrowIfNull(replicates);
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (GeneralisedExtremeValue d in replicates)
        {
            double level = d.AtHazard(-Math.Log(probability) / blocks);
            low = Math.Min(low, level);
            high = Math.Max(high, level);
        }
        if (!(high > low))
            return low;
        double Mean(double z)
        {
            double sum = 0;
            foreach (GeneralisedExtremeValue d in replicates)
                sum += Math.Exp(-blocks * d.Hazard(z));
            return sum / replicates.Count - probability;
        }
        return Roots.Between(Mean, low, high, 1e-9);
    }

    private static double ChiSquared(double confidence)
    {
        double z = NormalDistribution.Quantile(0.5 + confidence / 2);
        return z * z;
    }
}
