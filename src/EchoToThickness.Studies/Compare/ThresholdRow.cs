using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Compare;

/// <summary>Where a method breaks: the signal-to-noise ratio under which its error leaves the bound, or most cells are missing.</summary>
public sealed record ThresholdRow
{
    /// <summary>Name of the method.</summary>
    public required string Method { get; init; }

    /// <summary>Name of the source.</summary>
    public required string Source { get; init; }

    /// <summary>The other swept keys; empty when pooled over them.</summary>
    public required IReadOnlyList<SweepValue> Values { get; init; }

    /// <summary>Threshold, decibels; negative infinity when it lies below the sweep, positive infinity when above.</summary>
    public required FigureValue Decibels { get; init; }

    /// <summary>Whether missing cells, and not their error, set the threshold.</summary>
    public required bool ByMissing { get; init; }

    /// <summary>Lowest ratio of the sweep, decibels.</summary>
    public required double LowestDecibels { get; init; }

    /// <summary>Highest ratio of the sweep, decibels.</summary>
    public required double HighestDecibels { get; init; }
}
