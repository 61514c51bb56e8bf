using MathNet.Numerics.Distributions;

namespace EchoToThickness.Studies.Resampling;

/// <summary>Wilcoxon's signed-rank test on paired differences (Biometrics Bulletin 1, 1945).</summary>
public static class SignedRank
{
    /// <summary>Largest number of differences for which the exact distribution is used (when no two are equal in size).</summary>
    public const int LargestExact = 50;

    /// <summary>Two-sided p-value for differences that are symmetric about zero.</summary>
    /// <param name="differences">Independent paired differences; zeros are left out, as Wilcoxon did.</param>
    /// <returns>p-value; 1 when all differences are zero.</returns>
    /// <remarks>
    /// Ties share their mean rank. Without ties and up to <see cref="LargestExact"/> differences the distribution is counted out; else the
    /// normal approximation with the variance corrected for ties and no correction for continuity. Same definitions as
    /// <c>scipy.stats.wilcoxon(zero_method="wilcox")</c>.
    /// </remarks>
    public static double PValue(ReadOnlySpan<double> differences)
    {
        double[] kept = differences.ToArray().Where(d => d != 0).ToArray();
        int n = kept.Length;
        if (n == 0)
            return 1;
        double[] sizes = kept.Select(Math.Abs).ToArray();
        int[] order = Enumerable.Range(0, n).OrderBy(i => sizes[i]).ToArray();
        double positive = 0;
        double ties = 0;
        for (int start = 0; start < n; )
        {
            int end = start + 1;
            while (end < n && sizes[order[end]] == sizes[order[start]])
                end++;
            double rank = (start + end + 1) / 2.0;
            for (int i = start; i < end; i++)
                if (kept[order[i]] > 0)
                    positive += rank;
            double equal = end - start;
            ties += equal * equal * equal - equal;
            start = end;
        }
        if (ties == 0 && n <= LargestExact)
            return Exact(n, positive);
        double mean = n * (n + 1.0) / 4;
        double variance = n * (n + 1.0) * (2.0 * n + 1) / 24 - ties / 48;
        return Math.Min(1, 2 * Normal.CDF(0, 1, -Math.Abs(positive - mean) / Math.Sqrt(variance)));
    }

    private static double Exact(int n, double positive)
    {
        int total = n * (n + 1) / 2;
        int small = (int)Math.Min(positive, total - positive);
        // ways[s] = number of sets of ranks with sum s; doubles hold 2^50 exactly.
        var ways = new double[total + 1];
        ways[0] = 1;
        for (int rank = 1; rank <= n; rank++)
        for (int sum = total; sum >= rank; sum--)
            ways[sum] += ways[sum - rank];
        double tail = 0;
        for (int sum = 0; sum <= small; sum++)
            tail += ways[sum];
        return Math.Min(1, 2 * tail / Math.Pow(2, n));
    }
}
