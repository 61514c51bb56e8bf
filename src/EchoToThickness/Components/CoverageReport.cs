namespace EchoToThickness.Components;

/// <summary>What was inspected of the component, by true area.</summary>
/// <param name="Zones">Zones that the component has, and the whole last.</param>
/// <param name="Gaps">Connected areas without any measured value that were never scanned, largest disc first.</param>
/// <param name="LargestDisc">Largest disc without a measured value on the component, for whatever cause; null when all is measured.</param>
public sealed record CoverageReport(
    IReadOnlyList<ZoneCoverage> Zones,
    IReadOnlyList<CoverageGap> Gaps,
    UnsampledDisc? LargestDisc
)
{
    /// <summary>Connected areas that were scanned without a wall, largest disc first.</summary>
    public IReadOnlyList<LostPatch> Lost { get; init; } = [];

    /// <summary>The whole component.</summary>
    public ZoneCoverage Whole => Zones[^1];
}
