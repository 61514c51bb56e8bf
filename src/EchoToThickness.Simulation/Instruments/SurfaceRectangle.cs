using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// A rectangle on the unrolled outer surface; extents left out reach everywhere. Its length is the true length on the surface at its own
/// centre. Around a girth it wraps.
/// </summary>
internal readonly record struct SurfaceRectangle(
    double AlongMetres,
    double AroundMetres,
    double HalfAlongMetres,
    double HalfAroundMetres,
    double GirthMetres
)
{
    public static SurfaceRectangle Of(
        ComponentShape shape,
        SceneLength along,
        SceneLength around,
        SceneLength? length,
        SceneLength? width
    )
    {
        double centre = shape.AroundMetres(around);
        return new(
            shape.AlongMetres(along),
            centre,
            length is { } l
                ? shape.AlongMetres(l)
                    / 2
                    / (
                        l.Dimension == Units.Dimension.Length
                            ? shape.Stretch(new SurfacePoint(shape.AlongMetres(along), centre))
                            : 1
                    )
                : double.PositiveInfinity,
            width is { } w ? shape.AroundMetres(w) / 2 : double.PositiveInfinity,
            double.IsFinite(shape.OutsideRadiusMetres)
                ? 2 * Math.PI * shape.OutsideRadiusMetres
                : double.PositiveInfinity
        );
    }

    public bool Contains(SurfacePoint point) => Touches(point, 0, 0);

    /// <summary>Whether a rectangle around a point touches this one.</summary>
    public bool Touches(SurfacePoint point, double halfAlongMetres, double halfAroundMetres)
    {
        double around = point.AroundMetres - AroundMetres;
        if (double.IsFinite(GirthMetres))
            around = Math.IEEERemainder(around, GirthMetres);
        return Math.Abs(point.AlongMetres - AlongMetres) <= HalfAlongMetres + halfAlongMetres
            && Math.Abs(around) <= HalfAroundMetres + halfAroundMetres;
    }
}
