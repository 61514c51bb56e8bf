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
}
