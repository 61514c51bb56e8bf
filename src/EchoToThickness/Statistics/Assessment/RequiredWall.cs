namespace EchoToThickness.Statistics.Assessment;

/// <summary>Required wall.</summary>
/// <param name="PressureDesignMetres">Pressure design wall t.</param>
/// <param name="WithAllowanceMetres">t plus allowances.</param>
/// <param name="NominalToOrderMetres">That over 1 minus the minus tolerance.</param>
/// <param name="StressIndex">Factor I of the bend; 1 for straight pipe.</param>
public sealed record RequiredWall(
    double PressureDesignMetres,
    double WithAllowanceMetres,
    double NominalToOrderMetres,
    double StressIndex
);
