namespace EchoToThickness.Stacks.Sanity;

/// <summary>Medians and extremes over the A-scans that were looked at.</summary>
internal sealed record SampleSummary(
    double Minimum,
    double Maximum,
    double QuietLevel,
    double NoiseRms,
    double Peak,
    double SaturatedFraction,
    bool LooksRectified,
    double OneSidedness,
    double WrapRatio
)
{
    private const int RailRun = 3;

    /// <summary>Whether the samples step far less when shifted by half the range: they wrap round.</summary>
    public bool IsWrapped => WrapRatio >= 3;

    public static SampleSummary Of(StackInfo info, List<AScanFeatures> all, List<AScanFeatures> live)
    {
        double minimum = all.Count == 0 ? double.NaN : all.Min(f => f.Minimum);
        double maximum = all.Count == 0 ? double.NaN : all.Max(f => f.Maximum);
        AmplitudeScale scale = info.Amplitude;
        // A rail is a value that A-scans stay at for some samples: the declared one, or the extreme of the stack when at least two
        // A-scans stay there.
        bool atMaximum(AScanFeatures f) => f.MaximumRun >= RailRun && f.Maximum == maximum;
        bool atMinimum(AScanFeatures f) => f.MinimumRun >= RailRun && f.Minimum == minimum;
        bool highRail = maximum >= scale.MaximumCounts || live.Count(atMaximum) >= 2;
        bool lowRail = minimum <= scale.MinimumCounts || live.Count(atMinimum) >= 2;
        (bool rectified, double oneSided) = Rectified(live);
        // The lower bound of rectified samples is silence, not a rail.
        double saturated = Robust.Fraction(
            live,
            f => (highRail && atMaximum(f)) || (lowRail && !rectified && atMinimum(f))
        );
        return new SampleSummary(
            minimum,
            maximum,
            Robust.Median(live.Select(f => f.Median)),
            Robust.Median(live.Select(f => f.NoiseRms)),
            Robust.Median(live.Select(f => f.Peak)),
            saturated,
            rectified,
            oneSided,
            Robust.Median(live.Select(f => f.StepSum / Math.Max(f.WrappedStepSum, 1)))
        );
    }

    /// <summary>
    /// Gaussian noise reaches 3.09 deviations below its median at the 0.1 % quantile and 0.674 at the quartile, a ratio of 4.6, and echoes
    /// of both signs only add to it; rectified (half-normal) noise gives (0.6745 - 0.0013)/(0.6745 - 0.3186) = 1.9, a rectified envelope
    /// (Rayleigh) 2.7. Echoes then reach far above the median and not below it.
    /// </summary>
    private static (bool Rectified, double Ratio) Rectified(List<AScanFeatures> live)
    {
        double ratio = Robust.Median(
            live.Select(f =>
                f.Median > f.LowerQuartile ? (f.Median - f.Lowest) / (f.Median - f.LowerQuartile)
                : f.Median > f.Lowest ? double.PositiveInfinity
                : 1
            )
        );
        double upward = Robust.Median(
            live.Select(f => (f.Highest - f.Median) / Math.Max(f.Median - f.Minimum, double.Epsilon))
        );
        return (live.Count > 0 && ratio < 3.4 && upward > 3, ratio);
    }
}
