using EchoToThickness.Statistics.Assessment;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>A river-bottom profile and what it leaves of the strength.</summary>
/// <param name="Direction">"along" or "around".</param>
/// <param name="Profile">Largest depth at each place.</param>
/// <param name="EffectiveArea">Effective-area method; refused around, for which it is not written.</param>
public sealed record ProfileStrength(
    string Direction,
    RiverBottom Profile,
    AssessmentResult<FailurePressure> EffectiveArea
);
