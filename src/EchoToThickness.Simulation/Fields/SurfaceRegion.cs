using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>A rectangle on the outer surface, or all of it along, around or both (infinite half extents).</summary>
internal readonly record struct SurfaceRegion(SurfacePoint Centre, double HalfAlongMetres, double HalfAroundMetres)
{
    public bool IsEverywhereAlong => !double.IsFinite(HalfAlongMetres);

    public bool IsEverywhereAround => !double.IsFinite(HalfAroundMetres);

    public static SurfaceRegion Of(
        ComponentShape shape,
        SceneLength along,
        SceneLength around,
        SceneLength? length,
        SceneLength? width
    )
    {
        var centre = new SurfacePoint(shape.AlongMetres(along), shape.Wrap(shape.AroundMetres(around)));
        double half = length is { } extent ? TrueAlong(shape, centre, extent) / 2 : double.PositiveInfinity;
        double across = width is { } girth ? shape.AroundMetres(girth) / 2 : double.PositiveInfinity;
        // A width of the whole girth is everywhere; the seam opposite the centre is no edge.
        if (shape.IsClosed && across >= shape.WidthMetres / 2 * (1 - 1e-9))
            across = double.PositiveInfinity;
        return new SurfaceRegion(centre, half, across);
    }

    /// <summary>An extent along as a true length at a point: lengths are true already, angles and fractions are of the centre line.</summary>
    public static double TrueAlong(ComponentShape shape, SurfacePoint centre, SceneLength extent) =>
        extent.Dimension == Units.Dimension.Length ? extent.Value : shape.AlongMetres(extent) * shape.Stretch(centre);

    /// <summary>Whether a point lies in the rectangle.</summary>
    public bool Contains(ComponentShape shape, SurfacePoint point) =>
        Math.Abs((point.AlongMetres - Centre.AlongMetres) * shape.Stretch(Centre)) <= HalfAlongMetres
        && Math.Abs(shape.WrapDifference(point.AroundMetres - Centre.AroundMetres)) <= HalfAroundMetres;

    /// <summary>Extent along in surface coordinates, held to the component.</summary>
    public (double From, double To) AlongRange(ComponentShape shape)
    {
        double half = HalfAlongMetres / shape.Stretch(Centre);
        return (
            Math.Max(shape.StartMetres, Centre.AlongMetres - half),
            Math.Min(shape.EndMetres, Centre.AlongMetres + half)
        );
    }

    /// <summary>Extent around in surface coordinates; on a closed component it may pass the girth.</summary>
    public (double From, double To) AroundRange(ComponentShape shape)
    {
        if (IsEverywhereAround)
            return (0, shape.WidthMetres);
        (double from, double to) = (Centre.AroundMetres - HalfAroundMetres, Centre.AroundMetres + HalfAroundMetres);
        return shape.IsClosed ? (from, to) : (Math.Max(0, from), Math.Min(shape.WidthMetres, to));
    }
}
