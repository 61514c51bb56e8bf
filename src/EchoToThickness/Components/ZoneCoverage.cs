using EchoToThickness.Pairing;

namespace EchoToThickness.Components;

/// <summary>Coverage of a zone; all areas are true areas of the outer surface in square metres.</summary>
/// <param name="Zone">Zone; null for the whole component.</param>
/// <param name="RequiredSquareMetres">Area of the zone.</param>
/// <param name="ScannedSquareMetres">Area over which A-scans were taken.</param>
/// <param name="MeasuredSquareMetres">Area with a wall.</param>
/// <param name="LostSquareMetres">Area without a wall by cause; not scanned among them.</param>
/// <param name="LostCells">Cells without a wall by cause.</param>
public sealed record ZoneCoverage(
    SurfaceZone? Zone,
    double RequiredSquareMetres,
    double ScannedSquareMetres,
    double MeasuredSquareMetres,
    IReadOnlyDictionary<CellStatus, double> LostSquareMetres,
    IReadOnlyDictionary<CellStatus, int> LostCells
);
