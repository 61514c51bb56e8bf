using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>The instant at which a rising signal reaches a level, linear between samples.</summary>
public static class FlankPick
{
    /// <summary>First crossing of a level within a window.</summary>
    /// <param name="signal">Shape [sample]: not negative (rectified or envelope), or signed where only one sign counts.</param>
    /// <param name="first">First sample searched.</param>
    /// <param name="end">One past the last sample searched.</param>
    /// <param name="level">Level; a sample equal to it has reached it.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Samples from the start of the signal; NaN when the level is not reached.</returns>
    /// <remarks>
    /// <c>i - 1 + (level - s[i-1]) / (s[i] - s[i-1])</c>, i the first sample at or over the level; i itself when it is the first one
    /// searched. Bias: the pick lies before the peak by a distance that grows as level / amplitude falls, so it moves with the
    /// amplitude (relative levels do not have this error); the chord of a convex flank is crossed late by at most s''/8 over the slope.
    /// </remarks>
    public static double First(ReadOnlySpan<float> signal, int first, int end, float level, KernelPath path)
    {
        int i = Magnitude.FirstSignedAtLeast(signal[first..end], level, path);
        if (i < 0)
            return double.NaN;
        return i == 0 ? first : Between(signal[first + i - 1], signal[first + i], level) + first + i - 1;
    }

    /// <summary>Last upward crossing of a level before a sample that has reached it: the flank of the echo that the sample belongs to.</summary>
    /// <param name="signal">Shape [sample].</param>
    /// <param name="first">First sample that may be used.</param>
    /// <param name="peak">A sample at or over the level.</param>
    /// <param name="level">Level.</param>
    /// <returns>Samples from the start of the signal; <paramref name="first"/> when the signal is over the level all the way.</returns>
    public static double Before(ReadOnlySpan<float> signal, int first, int peak, double level)
    {
        int i = peak;
        while (i > first && signal[i - 1] >= level)
            i--;
        return i == first ? first : Between(signal[i - 1], signal[i], level) + i - 1;
    }

    /// <summary>Fraction of the interval at which the chord between two samples meets a level.</summary>
    /// <param name="below">Value under the level.</param>
    /// <param name="above">Value at or over the level.</param>
    /// <param name="level">Level.</param>
    /// <returns>0 to 1.</returns>
    public static double Between(double below, double above, double level) => (level - below) / (above - below);
}
