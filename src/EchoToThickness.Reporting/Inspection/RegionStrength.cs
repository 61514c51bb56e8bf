using EchoToThickness.Statistics.Assessment;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Remaining strength of regions that are taken together.</summary>
/// <param name="Regions">Numbers of the regions.</param>
/// <param name="Place">What was assessed: "straight pipe", or "bend" where the box touches one.</param>
/// <param name="DepthMetres">Nominal wall less smallest measured wall.</param>
/// <param name="LengthMetres">Length of the common box along.</param>
/// <param name="Original">Original B31G.</param>
/// <param name="Modified">Modified B31G.</param>
/// <param name="EffectiveArea">Effective area on the river-bottom profile of the box.</param>
/// <param name="ReachesDesignPressure">Whether the least safe pressure reaches the design pressure; null where refused or no pressure is given.</param>
public sealed record RegionStrength(
    IReadOnlyList<int> Regions,
    string Place,
    double DepthMetres,
    double LengthMetres,
    AssessmentResult<FailurePressure> Original,
    AssessmentResult<FailurePressure> Modified,
    AssessmentResult<FailurePressure> EffectiveArea,
    bool? ReachesDesignPressure
);
