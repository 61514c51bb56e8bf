using System.Globalization;
using EchoToThickness.Geometry;
using EchoToThickness.Stacks;

namespace EchoToThickness.Components;

/// <summary>The outer surface of a plate, a pipe or an elbow with its straight ends: places, lengths, areas. Immutable.</summary>
/// <remarks>
/// On a bend one metre along the centre line is <c>(R + r cos φ) / R</c> metres of metal at girth angle φ (0 at the extrados). Areas on the bend are
/// the closed form of <see cref="ElbowTorus.AreaSquareMetres"/>; on straight pipe and plate length times width.
/// </remarks>
public sealed class ComponentSurface
{
    private ComponentSurface(
        ComponentKind kind,
        double radius,
        double bendRadius,
        double length,
        double ends,
        double width
    )
    {
        Kind = kind;
        OutsideRadiusMetres = radius;
        BendRadiusMetres = bendRadius;
        LengthMetres = length;
        StraightEndsMetres = ends;
        WidthMetres = width;
        Torus =
            kind == ComponentKind.Elbow
                ? new ElbowTorus(radius, bendRadius, Math.Min(2 * Math.PI, length / bendRadius))
                : null;
    }

    /// <summary>Plate, pipe or elbow.</summary>
    public ComponentKind Kind { get; }

    /// <summary>Outside radius, metres; infinite on a plate.</summary>
    public double OutsideRadiusMetres { get; }

    /// <summary>Bend radius to the centre line, metres; infinite unless an elbow.</summary>
    public double BendRadiusMetres { get; }

    /// <summary>Length along, metres; on an elbow the arc of the centre line.</summary>
    public double LengthMetres { get; }

    /// <summary>Straight pipe on either end of an elbow, metres.</summary>
    public double StraightEndsMetres { get; }

    /// <summary>Extent around, metres: the outer girth, or the width of a plate.</summary>
    public double WidthMetres { get; }

    /// <summary>The bend of an elbow, else null.</summary>
    public ElbowTorus? Torus { get; }

    /// <summary>Smallest position along, metres.</summary>
    public double StartMetres => -StraightEndsMetres;

    /// <summary>Largest position along, metres.</summary>
    public double EndMetres => LengthMetres + StraightEndsMetres;

    /// <summary>Whether around closes on itself.</summary>
    public bool IsClosed => Kind != ComponentKind.Plate;

    /// <summary>True outer area, square metres.</summary>
    public double AreaSquareMetres => AreaOf(StartMetres, EndMetres, 0, WidthMetres);

    /// <summary>Makes the surface from facts.</summary>
    /// <param name="facts">The component.</param>
    /// <param name="lengthMetres">Plate and pipe: length where the facts have none.</param>
    /// <param name="widthMetres">Plate: width where the facts have none.</param>
    /// <exception cref="ComponentException">A fact that the shape needs is missing or impossible.</exception>
    public static ComponentSurface Of(ComponentFacts facts, double? lengthMetres = null, double? widthMetres = null)
    {
        ArgumentNullException.ThrowIfNull(facts);
        double length = facts.LengthMetres ?? lengthMetres ?? double.NaN;
        if (facts.Kind == ComponentKind.Plate)
            return new ComponentSurface(
                facts.Kind,
                double.PositiveInfinity,
                double.PositiveInfinity,
                Positive(length, "length"),
                0,
                Positive(facts.WidthMetres ?? widthMetres, "width")
            );
        double radius = Positive(facts.OutsideDiameterMetres, "outside diameter") / 2;
        if (facts.Kind == ComponentKind.Pipe)
            return new ComponentSurface(
                facts.Kind,
                radius,
                double.PositiveInfinity,
                Positive(length, "length"),
                0,
                2 * Math.PI * radius
            );
        double bend = Positive(facts.BendRadiusMetres, "bend radius");
        double angle = Positive(facts.BendAngleRadians, "bend angle");
        double ends = facts.StraightEndsMetres ?? 0;
        if (!(bend > radius))
            throw new ComponentException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The bend radius of {bend * 1e3:0.###} mm does not exceed the outside radius of {radius * 1e3:0.###} mm."
                ),
                "component, bend radius",
                "give the radius to the centre line of the bend."
            );
        if (!(angle <= 2 * Math.PI) || !(ends >= 0) || !double.IsFinite(ends))
            throw new ComponentException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The bend angle is {angle * 180 / Math.PI:0.###} degrees, the straight ends are {ends * 1e3:0.###} mm."
                ),
                "component, bend angle and straight ends",
                "give an angle up to 360 degrees and ends of 0 or more."
            );
        return new ComponentSurface(facts.Kind, radius, bend, bend * angle, ends, 2 * Math.PI * radius);
    }

    /// <summary>True length on the surface of one metre along at a place around, on the bend; else 1.</summary>
    /// <param name="aroundMetres">Around.</param>
    public double Stretch(double aroundMetres) =>
        Torus is null ? 1 : Torus.AlongScale(aroundMetres / OutsideRadiusMetres);

    /// <summary>True length on the surface of one metre along at a place; 1 on straight ends.</summary>
    /// <param name="place">Place.</param>
    public double Stretch(SurfacePlace place) => IsOnBend(place.AlongMetres) ? Stretch(place.AroundMetres) : 1;

    /// <summary>Whether a position along lies on the bend.</summary>
    /// <param name="alongMetres">Along.</param>
    public bool IsOnBend(double alongMetres) => Torus is not null && alongMetres >= 0 && alongMetres <= LengthMetres;

    /// <summary>Length on a track from the start of the bend to a position along.</summary>
    /// <param name="alongMetres">Along.</param>
    /// <param name="stretch">Track length of one metre of the centre line on the bend.</param>
    public double TrackOf(double alongMetres, double stretch) =>
        UnrolledSurface.TrackOf(alongMetres, LengthMetres, stretch);

    /// <summary>The inverse of <see cref="TrackOf"/>.</summary>
    /// <param name="trackMetres">Length on the track.</param>
    /// <param name="stretch">Track length of one metre of the centre line on the bend.</param>
    public double AlongOf(double trackMetres, double stretch) =>
        UnrolledSurface.AlongOf(trackMetres, LengthMetres, stretch);

    /// <summary>A position around brought into [0, girth); unchanged on a plate.</summary>
    /// <param name="aroundMetres">Around.</param>
    public double Wrap(double aroundMetres) =>
        IsClosed ? UnrolledSurface.Wrap(aroundMetres, WidthMetres) : aroundMetres;

    /// <summary>A difference around by the shorter way.</summary>
    /// <param name="differenceMetres">Difference.</param>
    public double WrapDifference(double differenceMetres) =>
        IsClosed ? UnrolledSurface.WrapDifference(differenceMetres, WidthMetres) : differenceMetres;

    /// <summary>Whether a place lies on the component; a nanometre beyond its edge is on it.</summary>
    /// <param name="place">Place.</param>
    public bool Holds(SurfacePlace place)
    {
        const double slack = 1e-9;
        return place.AlongMetres >= StartMetres - slack
            && place.AlongMetres <= EndMetres + slack
            && (IsClosed || (place.AroundMetres >= -slack && place.AroundMetres <= WidthMetres + slack));
    }

    /// <summary>True area between positions along and around, square metres; exact, also across the tangent lines.</summary>
    /// <param name="alongFrom">From, along.</param>
    /// <param name="alongTo">To, along.</param>
    /// <param name="aroundFrom">From, around.</param>
    /// <param name="aroundTo">To, around.</param>
    public double AreaOf(double alongFrom, double alongTo, double aroundFrom, double aroundTo)
    {
        double all = alongTo - alongFrom;
        if (Torus is null)
            return all * (aroundTo - aroundFrom);
        double bend = Math.Max(0, Math.Min(alongTo, LengthMetres) - Math.Max(alongFrom, 0));
        return (all - bend) * (aroundTo - aroundFrom)
            + Torus.AreaSquareMetres(
                aroundFrom / OutsideRadiusMetres,
                aroundTo / OutsideRadiusMetres,
                bend / BendRadiusMetres
            );
    }

    /// <summary>Zone of a place.</summary>
    /// <param name="place">Place.</param>
    public SurfaceZone ZoneOf(SurfacePlace place)
    {
        if (Torus is null)
            return SurfaceZone.Whole;
        if (!IsOnBend(place.AlongMetres))
            return SurfaceZone.StraightEnds;
        int quarter = (int)Math.Floor(Wrap(place.AroundMetres) / WidthMetres * 4 + 0.5) % 4;
        return quarter switch
        {
            0 => SurfaceZone.Extrados,
            1 => SurfaceZone.CheekClockwise,
            2 => SurfaceZone.Intrados,
            _ => SurfaceZone.CheekAnticlockwise,
        };
    }

    /// <summary>Angle along the bend, radians from its start; NaN off the bend.</summary>
    /// <param name="alongMetres">Along.</param>
    public double BendRadians(double alongMetres) =>
        IsOnBend(alongMetres) ? alongMetres / BendRadiusMetres : double.NaN;

    /// <summary>Angle around the section, radians from the extrados in [0, 2π); NaN on a plate.</summary>
    /// <param name="aroundMetres">Around.</param>
    public double GirthRadians(double aroundMetres) => IsClosed ? Wrap(aroundMetres) / OutsideRadiusMetres : double.NaN;

    /// <summary>A place in space, metres; a pipe's axis is x, an elbow's bend begins on the x axis and turns to y.</summary>
    /// <param name="place">Place.</param>
    public (double XMetres, double YMetres, double ZMetres) PointAt(SurfacePlace place)
    {
        if (Kind == ComponentKind.Plate)
            return (place.AlongMetres, place.AroundMetres, 0);
        double girth = place.AroundMetres / OutsideRadiusMetres;
        if (Torus is null)
            return (place.AlongMetres, OutsideRadiusMetres * Math.Cos(girth), OutsideRadiusMetres * Math.Sin(girth));
        double on = Math.Clamp(place.AlongMetres, 0, LengthMetres);
        double bend = on / BendRadiusMetres;
        (double x, double y, double z) = Torus.PointAt(bend, girth);
        double beyond = place.AlongMetres - on;
        return (x - Math.Sin(bend) * beyond, y + Math.Cos(bend) * beyond, z);
    }

    private static double Positive(double? value, string name) =>
        value is > 0 && double.IsFinite(value.Value)
            ? value.Value
            : throw new ComponentException(
                value is null || double.IsNaN(value.Value)
                    ? $"The {name} of the component is not known."
                    : string.Create(CultureInfo.InvariantCulture, $"The {name} of the component is {value} m."),
                $"component, {name}",
                "state it in the stack's facts, or in [component] of the plan."
            );
}
