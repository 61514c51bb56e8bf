using EchoToThickness.Statistics.Assessment;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Remaining life of a zone.</summary>
/// <param name="Zone">Zone.</param>
/// <param name="WallMetres">Measured minimum that fed it; never a corrected one.</param>
/// <param name="RequiredMetres">Required wall that fed it.</param>
/// <param name="RateMetresPerYear">Rate that fed it.</param>
/// <param name="RateUncertaintyMetresPerYear">Its standard uncertainty.</param>
/// <param name="RateSource">Where the rate comes from.</param>
/// <param name="Life">Life with its interval, or the refusal.</param>
public sealed record ZoneLife(
    string Zone,
    double WallMetres,
    double RequiredMetres,
    double RateMetresPerYear,
    double RateUncertaintyMetresPerYear,
    string RateSource,
    AssessmentResult<LifeEstimate> Life
);
