using EchoToThickness.Statistics.Assessment;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Thickness averaging on a critical thickness profile.</summary>
/// <param name="Direction">"along" (smallest wall around at every place along) or "around".</param>
/// <param name="PositionsMetres">Places with a measured wall.</param>
/// <param name="WallsMetres">Smallest wall at each.</param>
/// <param name="MissingPlaces">Places without a measured wall, which are left out.</param>
/// <param name="Average">The averaged wall, or the refusal.</param>
public sealed record ProfileAverage(
    string Direction,
    IReadOnlyList<double> PositionsMetres,
    IReadOnlyList<double> WallsMetres,
    int MissingPlaces,
    AssessmentResult<AveragedWall> Average
);
