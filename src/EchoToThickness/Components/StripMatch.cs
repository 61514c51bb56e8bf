namespace EchoToThickness.Components;

/// <summary>How the overlap of two lines fits together.</summary>
/// <param name="First">First line.</param>
/// <param name="Second">Second line, whose positions are shifted.</param>
/// <param name="Columns">Beams of the second line that lie on the first.</param>
/// <param name="IndexShiftMetres">Shift across that fits best: true less written place of the second line if the first is right.</param>
/// <param name="IndexEvidence">Log likelihood gained by that shift over none.</param>
/// <param name="ShiftMetres">Shape [scan] of the second line: shift on its track that fits best.</param>
/// <param name="Evidence">Log likelihood gained by the shifts along over none.</param>
/// <param name="Contrast">Mean cost of a wrong shift over that of the best one; near 1 where the wall is too even for any shift to show.</param>
/// <param name="ResidualMetres">Robust deviation of the differences at the best shift.</param>
public sealed record StripMatch(
    int First,
    int Second,
    int Columns,
    double IndexShiftMetres,
    double IndexEvidence,
    IReadOnlyList<double> ShiftMetres,
    double Evidence,
    double Contrast,
    double ResidualMetres
)
{
    /// <summary>Least contrast at which a missing fault means anything. Our choice, without source.</summary>
    public const double LeastContrast = 1.15;

    /// <summary>Whether the wall in the overlap varies enough to show a shift.</summary>
    public bool CanTell => Contrast >= LeastContrast;
}
