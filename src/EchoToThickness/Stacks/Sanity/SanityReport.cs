namespace EchoToThickness.Stacks.Sanity;

/// <summary>What the samples of a stack look like, and what about them is suspect. Counts are as stored, before the zero level is taken off.</summary>
public sealed record SanityReport
{
    /// <summary>Name of the stack.</summary>
    public required string Name { get; init; }

    /// <summary>A-scans looked at, spread over the stack.</summary>
    public required int AScansExamined { get; init; }

    /// <summary>Smallest finite sample, counts; NaN when there is none.</summary>
    public required double MinimumCounts { get; init; }

    /// <summary>Largest finite sample, counts; NaN when there is none.</summary>
    public required double MaximumCounts { get; init; }

    /// <summary>Median over the A-scans of their median sample, counts: the level of silence.</summary>
    public required double QuietLevelCounts { get; init; }

    /// <summary>Median noise ahead of the interface echo (root mean square about the quiet level), counts; NaN when nothing quiet lies ahead of it.</summary>
    public required double NoiseRmsCounts { get; init; }

    /// <summary>Median of the largest deviation from the quiet level of an A-scan, counts.</summary>
    public required double PeakCounts { get; init; }

    /// <summary>Fraction of A-scans with a run at a rail.</summary>
    public required double SaturatedFraction { get; init; }

    /// <summary>Samples that are NaN or infinite.</summary>
    public required long NonFiniteSamples { get; init; }

    /// <summary>A-scans with all samples equal (zero included).</summary>
    public required int ConstantAScans { get; init; }

    /// <summary>Whether the samples have one sign only.</summary>
    public required bool LooksRectified { get; init; }

    /// <summary>Fraction of A-scans whose strongest half-wave is positive.</summary>
    public required double StrongestPositiveFraction { get; init; }

    /// <summary>Fraction of A-scans whose first half-wave (beyond a fifth of the peak) is positive.</summary>
    public required double LeadingPositiveFraction { get; init; }

    /// <summary>Median time of the interface echo (first sample beyond 40 % of the peak), seconds; NaN when none.</summary>
    public required double InterfaceSeconds { get; init; }

    /// <summary>Median spacing of inverted repeats (interface echo to first back-wall echo), seconds; NaN when none stands out.</summary>
    public required double EchoSpacingSeconds { get; init; }

    /// <summary>Spectrum; null when no A-scan carries a signal.</summary>
    public required SpectrumFacts? Spectrum { get; init; }

    /// <summary>What tells the axes apart.</summary>
    public required AxisFacts Axes { get; init; }

    /// <summary>Beams with far less signal than the others.</summary>
    public required IReadOnlyList<int> DeadBeams { get; init; }

    /// <summary>What is suspect, most serious first; empty for a clean stack.</summary>
    public required IReadOnlyList<SanityFinding> Findings { get; init; }
}
