namespace EchoToThickness.Studies.Tune;

/// <summary>A cell that the chosen rule set measures badly.</summary>
/// <param name="Point">Number of the stack.</param>
/// <param name="Block">Number of its line.</param>
/// <param name="Scan">Scan position.</param>
/// <param name="Beam">Beam.</param>
/// <param name="Kind">What became of it.</param>
/// <param name="TruthMetres">True wall; NaN when not known.</param>
/// <param name="ValueMetres">Measured wall; NaN when missing.</param>
/// <param name="ErrorMetres">Error; NaN when missing.</param>
public sealed record WorstCell(
    int Point,
    int Block,
    int Scan,
    int Beam,
    CellKind Kind,
    double TruthMetres,
    double ValueMetres,
    double ErrorMetres
);
