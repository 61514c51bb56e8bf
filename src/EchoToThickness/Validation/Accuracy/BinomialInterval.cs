using EchoToThickness.Statistics.Numerics;
using EchoToThickness.Validation.Numerics;

namespace EchoToThickness.Validation.Accuracy;

/// <summary>Statements about counted events.</summary>
public static class BinomialInterval
{
    /// <summary>Interval of Clopper and Pearson (Biometrika 26, 1934), never below its confidence.</summary>
    /// <param name="events">Events.</param>
    /// <param name="trials">Independent trials.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    /// <returns>No interval for 0 trials.</returns>
    public static ConfidenceInterval ClopperPearson(long events, long trials, double confidence)
    {
        double tail = (1 - confidence) / 2;
        return trials == 0
            ? ConfidenceInterval.None
            : new(Lower(events, trials, 1 - tail), Upper(events, trials, 1 - tail), confidence);
    }

    /// <summary>One-sided lower limit.</summary>
    /// <param name="events">Events.</param>
    /// <param name="trials">Independent trials, at least 1.</param>
    /// <param name="confidence">One-sided confidence.</param>
    public static double Lower(long events, long trials, double confidence)
    {
        Check(events, trials);
        return events == 0 ? 0 : Quantile.Beta(1 - confidence, events, trials - events + 1.0);
    }

    /// <summary>One-sided upper limit.</summary>
    /// <param name="events">Events.</param>
    /// <param name="trials">Independent trials, at least 1.</param>
    /// <param name="confidence">One-sided confidence.</param>
    public static double Upper(long events, long trials, double confidence)
    {
        Check(events, trials);
        return events == trials ? 1 : Quantile.Beta(confidence, events + 1.0, trials - events);
    }

    /// <summary>Score interval of Wilson (JASA 22, 1927): close to its confidence on average, not always above it.</summary>
    /// <param name="events">Events.</param>
    /// <param name="trials">Independent trials, at least 1.</param>
    /// <param name="confidence">Two-sided confidence.</param>
    public static ConfidenceInterval Wilson(long events, long trials, double confidence)
    {
        Check(events, trials);
        double z = NormalDistribution.Quantile((1 + confidence) / 2);
        double n = trials;
        double share = events / n;
        double centre = (share + z * z / (2 * n)) / (1 + z * z / n);
        double half = z / (1 + z * z / n) * Math.Sqrt(share * (1 - share) / n + z * z / (4 * n * n));
        return new(events == 0 ? 0 : centre - half, events == trials ? 1 : centre + half, confidence);
    }

    private static void Check(long events, long trials)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(events);
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(events, trials);
    }
}
