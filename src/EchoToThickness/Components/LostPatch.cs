using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>A connected area that was scanned, but gave no wall: a place to look at.</summary>
/// <param name="Cells">Cells of the map.</param>
/// <param name="AreaSquareMetres">True area.</param>
/// <param name="Cause">Status of most of its area.</param>
/// <param name="Disc">Largest disc in it.</param>
/// <param name="Source">The measured cell at its middle.</param>
public sealed record LostPatch(
    int Cells,
    double AreaSquareMetres,
    CellStatus Cause,
    UnsampledDisc Disc,
    CellSource Source
);
