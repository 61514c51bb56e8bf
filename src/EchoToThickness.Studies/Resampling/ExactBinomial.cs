using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using MathNet.Numerics;

namespace EchoToThickness.Studies.Resampling;

/// <summary>Exact statements about counted events.</summary>
public static class ExactBinomial
{
    /// <summary>
    /// Interval of Clopper and Pearson (Biometrika 26, 1934): holds the true rate at least as often as the level says, also when no
    /// event, or nothing but events, were seen.
    /// </summary>
    /// <param name="events">Events seen.</param>
    /// <param name="trials">Independent trials, at least <paramref name="events"/>.</param>
    /// <param name="level">Confidence level, 0 to 1, two-sided.</param>
    /// <returns>Fractions; no interval for 0 trials.</returns>
    public static Interval ClopperPearson(long events, long trials, double level)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(events);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(events, trials);
        ConfidenceInterval interval = BinomialInterval.ClopperPearson(events, trials, level);
        return new Interval(interval.Low, interval.High);
    }

    /// <summary>
    /// Two-sided sign test: the chance that a fair coin falls as unevenly as <paramref name="first"/> to <paramref name="second"/> or worse.
    /// On pairs that disagree this is McNemar's exact test.
    /// </summary>
    /// <param name="first">Times the one side won.</param>
    /// <param name="second">Times the other side won.</param>
    /// <returns>p-value; 1 when there was no disagreement.</returns>
    public static double SignTest(long first, long second)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(first);
        ArgumentOutOfRangeException.ThrowIfNegative(second);
        long few = Math.Min(first, second);
        long all = first + second;
        if (2 * few >= all)
            return 1;
        // P(X <= few) = I_{1/2}(all - few, few + 1), X binomial with probability 1/2.
        return Math.Min(1, 2 * SpecialFunctions.BetaRegularized(all - few, few + 1, 0.5));
    }
}
