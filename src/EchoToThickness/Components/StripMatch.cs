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
    /// <summary>Metres of shift for each metre on the second line's track where an even drift explains the overlap best; else 0.</summary>
    public double DriftRatio { get; init; }

    /// <summary>Robust deviation of what all beams of a row differ alike, metres.</summary>
    public double RowCommonMetres { get; init; }

    /// <summary>Log likelihood that the best shifts lose when all are three steps off, either way, the lesser.</summary>
    public double ShiftEvidence { get; init; }

    /// <summary>Least <see cref="ShiftEvidence"/> at which a missing fault means anything: what a fault over a third of the line has to gain to be reported.</summary>
    public const double LeastShiftEvidence = 3 * StripRegistration.JumpPenalty;

    /// <summary>Whether the wall in the overlap varies enough to show a shift of three steps over a third of the line.</summary>
    public bool CanTell => ShiftEvidence >= LeastShiftEvidence;
}
