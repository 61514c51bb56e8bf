using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[component]</c>: facts in place of those of the grid.</summary>
public sealed record ComponentPlan
{
    /// <summary>Kind.</summary>
    [ProcedureKey("kind", "Plate, pipe or elbow; left out: as the grid says.")]
    public PlanComponentKind? Kind { get; init; }

    /// <summary>Outside diameter.</summary>
    [ProcedureKey("outside_diameter", "Outside diameter of pipe or elbow.", Dimension.Length, Minimum = 0)]
    public double? OutsideDiameterMetres { get; init; }

    /// <summary>Nominal wall.</summary>
    [ProcedureKey("nominal_wall", "Nominal wall.", Dimension.Length, Minimum = 0)]
    public double? NominalWallMetres { get; init; }

    /// <summary>Bend radius.</summary>
    [ProcedureKey("bend_radius", "Bend radius to the centre line.", Dimension.Length, Minimum = 0)]
    public double? BendRadiusMetres { get; init; }

    /// <summary>Bend angle.</summary>
    [ProcedureKey("bend_angle", "Angle of the bend.", Dimension.Angle, Minimum = 0)]
    public double? BendAngleRadians { get; init; }

    /// <summary>Straight ends.</summary>
    [ProcedureKey("straight_ends", "Straight pipe on either end of an elbow.", Dimension.Length, Minimum = 0)]
    public double? StraightEndsMetres { get; init; }

    /// <summary>Length.</summary>
    [ProcedureKey("length", "Plate and pipe: length along.", Dimension.Length, Minimum = 0)]
    public double? LengthMetres { get; init; }

    /// <summary>Width.</summary>
    [ProcedureKey("width", "Plate: width across.", Dimension.Length, Minimum = 0)]
    public double? WidthMetres { get; init; }

    /// <summary>The facts with what this section states on top.</summary>
    /// <param name="facts">Facts of the grid.</param>
    public ComponentFacts Over(ComponentFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return new ComponentFacts
        {
            Kind = Kind is { } kind ? (ComponentKind)kind : facts.Kind,
            OutsideDiameterMetres = OutsideDiameterMetres ?? facts.OutsideDiameterMetres,
            NominalWallMetres = NominalWallMetres ?? facts.NominalWallMetres,
            BendRadiusMetres = BendRadiusMetres ?? facts.BendRadiusMetres,
            BendAngleRadians = BendAngleRadians ?? facts.BendAngleRadians,
            StraightEndsMetres = StraightEndsMetres ?? facts.StraightEndsMetres,
            LengthMetres = LengthMetres ?? facts.LengthMetres,
            WidthMetres = WidthMetres ?? facts.WidthMetres,
        };
    }
}
