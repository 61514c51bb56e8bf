using EchoToThickness.Geometry;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>A component with all its numbers known, tables looked up.</summary>
/// <param name="Shape">Plate, pipe or elbow.</param>
/// <param name="NominalWallMetres">Nominal wall, metres.</param>
/// <param name="OutsideRadiusMetres">Outside radius, metres; infinite on a plate.</param>
/// <param name="BendRadiusMetres">Bend radius to the centre line, metres; infinite unless an elbow.</param>
/// <param name="LengthMetres">Extent along, metres; on an elbow the arc of the centre line.</param>
/// <param name="WidthMetres">Extent around, metres; the girth on pipes and elbows.</param>
public sealed record ComponentShape(
    SceneShape Shape,
    double NominalWallMetres,
    double OutsideRadiusMetres,
    double BendRadiusMetres,
    double LengthMetres,
    double WidthMetres
)
{
    /// <summary>Straight pipe on either end of an elbow, metres; positions along reach that far below 0 and above the bend's length.</summary>
    public double StraightEndsMetres { get; init; }

    /// <summary>Smallest position along, metres.</summary>
    public double StartMetres => -StraightEndsMetres;

    /// <summary>Largest position along, metres.</summary>
    public double EndMetres => LengthMetres + StraightEndsMetres;

    /// <summary>Whether around closes on itself: a pipe or an elbow.</summary>
    public bool IsClosed => Shape != SceneShape.Plate;

    /// <summary>Looks up what the section leaves to the tables.</summary>
    /// <param name="component">The section <c>[component]</c>.</param>
    /// <exception cref="ProcedureException">An unknown size or schedule, a fact missing or given twice, a bend tighter than the pipe.</exception>
    public static ComponentShape Of(ComponentSection component)
    {
        ArgumentNullException.ThrowIfNull(component);
        var findings = new List<ProcedureFinding>();
        return ComponentRules.Resolve(component, findings) ?? throw new ProcedureException(findings);
    }

    /// <summary>A position or extent along, in metres (on an elbow: of the centre line).</summary>
    /// <param name="along">Length, angle of the bend, or fraction of the length.</param>
    public double AlongMetres(SceneLength along) =>
        along.ToMetres(double.IsFinite(BendRadiusMetres) ? BendRadiusMetres : 0, LengthMetres);

    /// <summary>A position or extent around, in metres of the outer girth.</summary>
    /// <param name="around">Length, angle from the extrados, or fraction of the girth or width.</param>
    public double AroundMetres(SceneLength around) =>
        around.ToMetres(double.IsFinite(OutsideRadiusMetres) ? OutsideRadiusMetres : 0, WidthMetres);

    /// <summary>
    /// True length on the outer surface of one metre along, <c>(R + r_o cos phi) / R</c> on an elbow, else 1.
    /// </summary>
    /// <param name="aroundMetres">Position around, metres from the extrados.</param>
    public double Stretch(double aroundMetres) =>
        double.IsFinite(BendRadiusMetres)
            ? 1 + OutsideRadiusMetres * Math.Cos(aroundMetres / OutsideRadiusMetres) / BendRadiusMetres
            : 1;

    /// <summary>True length on the outer surface of one metre along at a point; 1 on the straight ends of an elbow.</summary>
    /// <param name="point">The point.</param>
    public double Stretch(SurfacePoint point) =>
        point.AlongMetres < 0 || point.AlongMetres > LengthMetres ? 1 : Stretch(point.AroundMetres);

    /// <summary>True length along a line of constant girth angle, from the start of the bend (pipe, plate: of the component) to a position.</summary>
    /// <param name="alongMetres">Position along; any sign.</param>
    /// <param name="stretch">True metres for each metre along on the bend, from <see cref="Stretch(double)"/>.</param>
    public double LineLengthMetres(double alongMetres, double stretch) =>
        UnrolledSurface.TrackOf(alongMetres, LengthMetres, stretch);

    /// <summary>The inverse of <see cref="LineLengthMetres"/>.</summary>
    /// <param name="lineLengthMetres">True length from the start of the bend.</param>
    /// <param name="stretch">True metres for each metre along on the bend.</param>
    public double AlongAtLineLength(double lineLengthMetres, double stretch) =>
        UnrolledSurface.AlongOf(lineLengthMetres, LengthMetres, stretch);

    /// <summary>A position around brought into [0, girth); unchanged on a plate.</summary>
    /// <param name="aroundMetres">Position around, metres.</param>
    public double Wrap(double aroundMetres) =>
        IsClosed ? UnrolledSurface.Wrap(aroundMetres, WidthMetres) : aroundMetres;

    /// <summary>A difference of positions around by the shorter way, within half the girth; unchanged on a plate.</summary>
    /// <param name="differenceMetres">Difference, metres.</param>
    public double WrapDifference(double differenceMetres) =>
        IsClosed ? UnrolledSurface.WrapDifference(differenceMetres, WidthMetres) : differenceMetres;

    /// <summary>Signed outer radius of curvature along at a point: negative where concave, infinite where straight.</summary>
    /// <param name="point">The point.</param>
    public double AlongRadiusMetres(SurfacePoint point)
    {
        if (Shape != SceneShape.Elbow || point.AlongMetres < 0 || point.AlongMetres > LengthMetres)
            return double.PositiveInfinity;
        return Torus!.AlongRadiusMetres(point.AroundMetres / OutsideRadiusMetres);
    }

    /// <summary>The bend of an elbow; null otherwise.</summary>
    public ElbowTorus? Torus { get; } =
        Shape == SceneShape.Elbow
            ? new ElbowTorus(
                OutsideRadiusMetres,
                BendRadiusMetres,
                Math.Min(2 * Math.PI, LengthMetres / BendRadiusMetres)
            )
            : null;
}
