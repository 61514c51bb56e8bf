using MathNet.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Tolerance limits from order statistics, for any continuous distribution (Wilks, Annals of Mathematical Statistics 12, 1941).</summary>
public static class OrderStatisticTolerance
{
    /// <summary>Confidence that the interval between two order statistics holds at least a share of the population.</summary>
    /// <param name="count">Independent values.</param>
    /// <param name="blocks">Steps from the lower to the upper rank; from the smallest to the largest value, count - 1; one-sided, count or less.</param>
    /// <param name="share">Share, 0 to 1.</param>
    public static double Confidence(int count, int blocks, double share)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(blocks);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(blocks, count);
        return blocks == 0 ? 0 : 1 - SpecialFunctions.BetaRegularized(blocks, count - blocks + 1.0, share);
    }

    /// <summary>Fewest independent values whose extremes are such limits.</summary>
    /// <param name="share">Share, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    /// <param name="twoSided">Both extremes, or one.</param>
    public static int LeastCount(double share, double confidence, bool twoSided)
    {
        int count = twoSided ? 2 : 1;
        while (Confidence(count, twoSided ? count - 1 : count, share) < confidence)
            count++;
        return count;
    }

    /// <summary>The tightest limits of a sample, cut evenly at both ends.</summary>
    /// <param name="values">Independent values: one a cluster. Not changed.</param>
    /// <param name="share">Share, 0 to 1.</param>
    /// <param name="confidence">Confidence, 0 to 1.</param>
    /// <param name="side">Which ends.</param>
    /// <returns>Value: the median. Refused when even the extremes do not reach the confidence.</returns>
    public static Estimate Of(ReadOnlySpan<double> values, double share, double confidence, ToleranceSide side)
    {
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        int n = sorted.Length;
        const string method = "order statistics (Wilks 1941)";
        double median = n == 0 ? double.NaN : 0.5 * (sorted[(n - 1) / 2] + sorted[n / 2]);
        bool two = side == ToleranceSide.Both;
        int cut = 0;
        while (Confidence(n, Math.Max(n - cut - 1, 0), share) >= confidence)
            cut++;
        if (cut == 0 || (two && cut < 1))
            if (n == 0 || Confidence(n, two ? n - 1 : n, share) < confidence)
                return Estimate.Refused(method, median, n, n, Refusal.Clusters(n, LeastCount(share, confidence, two)));
        // One-sided: ranks 1 + cut .. beyond; two-sided: cut blocks shared by both ends, one of them always spent.
        if (!two)
        {
            double low = side == ToleranceSide.Lower ? sorted[cut] : double.NegativeInfinity;
            double high = side == ToleranceSide.Upper ? sorted[n - 1 - cut] : double.PositiveInfinity;
            return new Estimate(method, median, double.NaN, new(low, high, confidence), n, n, double.NaN);
        }
        int below = (cut - 1) / 2;
        int above = cut - 1 - below;
        return new Estimate(
            method,
            median,
            double.NaN,
            new(sorted[below], sorted[n - 1 - above], confidence),
            n,
            n,
            double.NaN
        );
    }
}
