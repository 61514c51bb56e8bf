namespace EchoToThickness.Studies.Drawings;

/// <summary>A feature of a drawing, for tables and for clusters.</summary>
/// <param name="Name">Its name; of the block for the wall outside of all features.</param>
/// <param name="Kind">What it is.</param>
/// <param name="AlongMetres">Centre along on the drawing.</param>
/// <param name="AcrossMetres">Centre across on the drawing.</param>
/// <param name="LengthMetres">Extent along.</param>
/// <param name="WidthMetres">Extent across.</param>
/// <param name="WallMetres">Certified wall (of a pit at its deepest point).</param>
/// <param name="StandardUncertaintyMetres">Standard uncertainty of it.</param>
public sealed record DrawingFeature(
    string Name,
    DrawingFeatureKind Kind,
    double AlongMetres,
    double AcrossMetres,
    double LengthMetres,
    double WidthMetres,
    double WallMetres,
    double StandardUncertaintyMetres
);
