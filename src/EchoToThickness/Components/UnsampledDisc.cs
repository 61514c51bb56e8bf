namespace EchoToThickness.Components;

/// <summary>A disc on the component that holds no centre of a measured cell of any line and does not leave the component.</summary>
/// <param name="DiameterMetres">
/// Diameter, metres of metal. No disc there is larger by more than an eighth of a cell of the map. A spot of the true diameter D that no cell was measured
/// in gives at least D, and at most D and two diagonals of the cells of the lines.
/// </param>
/// <param name="Centre">Centre.</param>
public sealed record UnsampledDisc(double DiameterMetres, SurfacePlace Centre)
{
    /// <summary>Diameter of the disc about the same centre that touches no measured cell (half a pitch either way of its centre), metres; 0 when the centre is covered.</summary>
    public double FreeOfCellsMetres { get; init; }
}
