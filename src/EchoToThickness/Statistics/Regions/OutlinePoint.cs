namespace EchoToThickness.Statistics.Regions;

/// <summary>A corner of an outline.</summary>
/// <param name="AlongMetres">Distance along the reference line.</param>
/// <param name="AroundMetres">Distance around; beyond the girth where the region lies across the seam.</param>
public readonly record struct OutlinePoint(double AlongMetres, double AroundMetres);
