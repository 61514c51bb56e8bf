namespace EchoToThickness.Reporting.Inspection;

/// <summary>What a reviewer's decisions change.</summary>
/// <param name="Cells">Measured cells they touch.</param>
/// <param name="MachineMinimumMetres">Minimum by the machine.</param>
/// <param name="MinimumMetres">Minimum with the decisions.</param>
/// <param name="MachineBelowSquareMetres">Area below the limits by the machine, in the order of the thresholds.</param>
/// <param name="BelowSquareMetres">The same with the decisions.</param>
/// <param name="MachineExpectedSquareMetres">Area below the limits by probability, by the machine.</param>
/// <param name="ExpectedSquareMetres">The same with the decisions.</param>
/// <param name="MachineBoundMetres">Lower bound of unmeasured metal by the machine; null when not supported or not asked for.</param>
/// <param name="BoundMetres">The same with the decisions.</param>
public sealed record OverruleEffect(
    int Cells,
    double MachineMinimumMetres,
    double MinimumMetres,
    IReadOnlyList<double> MachineBelowSquareMetres,
    IReadOnlyList<double> BelowSquareMetres,
    IReadOnlyList<double> MachineExpectedSquareMetres,
    IReadOnlyList<double> ExpectedSquareMetres,
    double? MachineBoundMetres,
    double? BoundMetres
);
