using EchoToThickness.Statistics.Numerics;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>Fits the generalised extreme-value distribution to the several largest values of every block.</summary>
public static class RLargestFitter
{
    /// <summary>Maximum likelihood, penalised where the rule says so.</summary>
    /// <param name="blocks">Shape [block][value]: the largest values of each block, any order, at least one; blocks may hold different numbers.</param>
    /// <param name="rule">What the shape may do.</param>
    /// <exception cref="StatisticsException">Fewer than three blocks, or all values equal.</exception>
    /// <remarks>
    /// Log-likelihood of a block with the values x: <c>-t(min x) + sum((1 + shape) ln t(x) - ln scale)</c> (Coles 2001, eq. 3.15); with one value a block it is
    /// that of block maxima. More values a block sharpen the fit only as long as they are independent and still extreme: standard errors that
    /// shrink while the estimates walk away say that r is too large.
    /// </remarks>
    public static ExtremeFit MaximumLikelihood(IReadOnlyList<IReadOnlyList<double>> blocks, ShapeRule rule)
    {
        ArgumentNullException.ThrowIfNull(blocks);
        ArgumentNullException.ThrowIfNull(rule);
        if (blocks.Any(b => b.Count == 0 || b.Any(x => !double.IsFinite(x))))
            throw new StatisticsException(
                "A block holds no value, or one that is no number.",
                "fit to the largest values of blocks",
                "leave such blocks out"
            );
        ExtremeFit first = GevFitter.MaximumLikelihood(
            new BlockSample(blocks.Select(b => b.Max()).ToArray()),
            ShapeRule.Gumbel,
            false
        );
        GeneralisedExtremeValue start = first.Distribution;
        double Likelihood(double[] p)
        {
            double shape = rule.IsFixed ? rule.Centre : p[2];
            return shape <= -1 || p[1] <= 0
                ? double.PositiveInfinity
                : NegativeLogLikelihood(
                    blocks,
                    new GeneralisedExtremeValue(start.Location + start.Scale * p[0], start.Scale * p[1], shape)
                ) + rule.Penalty(shape);
        }
        double[] from = rule.IsFixed ? [0, 1] : [0, 1, rule.Centre];
        double[] step = rule.IsFixed ? [0.2, 0.15] : [0.2, 0.15, 0.1];
        // Where the start is impossible a wider scale is not.
        while (double.IsInfinity(Likelihood(from)) && from[1] < 1e3)
            from[1] *= 1.5;
        (double[] best, _) = Simplex.Minimise(Likelihood, from, step);
        var found = new GeneralisedExtremeValue(
            start.Location + start.Scale * best[0],
            start.Scale * best[1],
            rule.IsFixed ? rule.Centre : best[2]
        );
        int count = blocks.Sum(b => b.Count);
        double size = 0.02 / Math.Sqrt(count);
        double[,]? inverse = Curvature.Inverse(Curvature.Hessian(Likelihood, best, [.. best.Select(_ => size)]));
        double[,]? covariance = null;
        if (inverse is not null)
        {
            covariance = new double[3, 3];
            for (int i = 0; i < best.Length; i++)
            for (int j = 0; j < best.Length; j++)
                covariance[i, j] = inverse[i, j] * (i < 2 ? start.Scale : 1) * (j < 2 ? start.Scale : 1);
        }
        return new ExtremeFit
        {
            Distribution = found,
            Rule = rule,
            Method = "maximum likelihood, largest values of blocks, " + rule.Name,
            Count = count,
            NegativeLogLikelihood = NegativeLogLikelihood(blocks, found),
            Covariance = covariance,
        };
    }

    /// <summary>Negative log-likelihood; infinity where a value is impossible.</summary>
    /// <param name="blocks">Shape [block][value].</param>
    /// <param name="distribution">Distribution of the largest value of a block.</param>
    public static double NegativeLogLikelihood(
        IReadOnlyList<IReadOnlyList<double>> blocks,
        GeneralisedExtremeValue distribution
    )
    {
        ArgumentNullException.ThrowIfNull(blocks);
        double sum = 0;
        foreach (IReadOnlyList<double> block in blocks)
        {
            double least = double.PositiveInfinity;
            foreach (double x in block)
            {
                least = Math.Min(least, x);
                sum += Math.Log(distribution.Scale) - (1 + distribution.Shape) * Math.Log(distribution.Hazard(x));
            }
            sum += distribution.Hazard(least);
        }
        return double.IsNaN(sum) ? double.PositiveInfinity : sum;
    }
}
