namespace EchoToThickness.Statistics.Assessment;

/// <summary>Outcome of thickness averaging.</summary>
/// <param name="SmallestWallMetres">tmm.</param>
/// <param name="RemainingRatio">Rt.</param>
/// <param name="Parameter">Q.</param>
/// <param name="LengthMetres">Averaging length L.</param>
/// <param name="AveragedWallMetres">Least mean over L, tam.</param>
/// <param name="PassesAverage">Whether the mean less the future allowance reaches the required wall.</param>
/// <param name="PassesMinimum">Whether the smallest wall less the future allowance reaches its limit.</param>
public sealed record AveragedWall(
    double SmallestWallMetres,
    double RemainingRatio,
    double Parameter,
    double LengthMetres,
    double AveragedWallMetres,
    bool PassesAverage,
    bool PassesMinimum
);
