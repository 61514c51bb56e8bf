namespace EchoToThickness.Reporting.Documents;

/// <summary>What the statements would be without the cells that a warning is about.</summary>
/// <param name="Warning">The warning in words.</param>
/// <param name="Cells">Measured cells it is about.</param>
/// <param name="MinimumMetres">Smallest wall without them; NaN when none is left.</param>
/// <param name="MinimumShiftMetres">By how much the smallest wall changes; positive: it gets thicker; infinite when no wall is left.</param>
/// <param name="BelowSquareMetres">Area below each limit without them.</param>
/// <param name="BelowShiftSquareMetres">Its changes.</param>
public sealed record WarningEffect(
    string Warning,
    int Cells,
    double MinimumMetres,
    double MinimumShiftMetres,
    IReadOnlyList<double> BelowSquareMetres,
    IReadOnlyList<double> BelowShiftSquareMetres
);
