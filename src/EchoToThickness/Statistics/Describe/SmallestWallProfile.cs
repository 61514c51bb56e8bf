namespace EchoToThickness.Statistics.Describe;

/// <summary>Smallest wall at each place of one axis.</summary>
/// <param name="PositionsMetres">Shape [place].</param>
/// <param name="ThicknessMetres">Shape [place]; NaN where no cell was measured.</param>
/// <param name="UncertaintyMetres">Shape [place]: combined standard uncertainty of the cell; NaN where none.</param>
/// <param name="CellIndex">Shape [place]: the cell; -1 where none.</param>
/// <param name="MeasuredFraction">Shape [place]: measured cells over all cells.</param>
public sealed record SmallestWallProfile(
    IReadOnlyList<double> PositionsMetres,
    IReadOnlyList<double> ThicknessMetres,
    IReadOnlyList<double> UncertaintyMetres,
    IReadOnlyList<int> CellIndex,
    IReadOnlyList<double> MeasuredFraction
);
