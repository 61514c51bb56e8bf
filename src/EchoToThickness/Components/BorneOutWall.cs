namespace EchoToThickness.Components;

/// <summary>The smallest wall that the cells beside it bear out.</summary>
/// <param name="WallMetres">Wall.</param>
/// <param name="StandardUncertaintyMetres">Its combined standard uncertainty.</param>
/// <param name="Place">Place.</param>
/// <param name="Cell">The measured cell.</param>
public sealed record BorneOutWall(
    double WallMetres,
    double StandardUncertaintyMetres,
    SurfacePlace Place,
    CellSource Cell
);
