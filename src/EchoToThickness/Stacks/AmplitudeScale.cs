namespace EchoToThickness.Stacks;

/// <summary>How stored counts become a fraction of full scale: <c>(counts - ZeroCounts) / FullScaleCounts</c>.</summary>
/// <param name="FullScaleCounts">Counts from zero to full scale; positive.</param>
/// <param name="ZeroCounts">Counts that mean no signal (128 for offset-binary bytes).</param>
/// <param name="MinimumCounts">Lower rail of the digitiser in counts: a sample at or below it is saturated; NaN when unknown.</param>
/// <param name="MaximumCounts">Upper rail of the digitiser in counts: a sample at or above it is saturated; NaN when unknown.</param>
public readonly record struct AmplitudeScale(
    double FullScaleCounts,
    double ZeroCounts,
    double MinimumCounts = double.NaN,
    double MaximumCounts = double.NaN
)
{
    /// <summary>The scale that a stored type implies: its integer range, or ±1 for floating point (rails unknown).</summary>
    /// <param name="type">Stored sample type.</param>
    public static AmplitudeScale For(SampleType type) =>
        type switch
        {
            SampleType.Int8 => new(127, 0, -128, 127),
            SampleType.UInt8 => new(127, 128, 0, 255),
            SampleType.Int16 => new(32767, 0, -32768, 32767),
            SampleType.UInt16 => new(32767, 32768, 0, 65535),
            _ => new(1, 0),
        };
}
