using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[component]</c>: the component that is scanned.</summary>
public sealed record ComponentSection
{
    /// <summary>Shape.</summary>
    [ProcedureKey("kind", "Shape.")]
    public SceneShape Shape { get; init; } = SceneShape.Plate;

    /// <summary>Nominal pipe size in inches, such as \"6\"; gives the outside diameter from the table.</summary>
    [ProcedureKey("nps", "Nominal pipe size in inches, such as \"6\"; gives the outside diameter from the table.")]
    public string? NominalPipeSize { get; init; }

    /// <summary>Schedule, such as \"40\"; gives the nominal wall from the table.</summary>
    [ProcedureKey("schedule", "Schedule, such as \"40\"; gives the nominal wall from the table.")]
    public string? Schedule { get; init; }

    /// <summary>Outside diameter, in place of nps.</summary>
    [ProcedureKey("outside_diameter", "Outside diameter, in place of nps.", Dimension.Length, Minimum = 0)]
    public double? OutsideDiameterMetres { get; init; }

    /// <summary>Nominal wall, in place of schedule; a plate needs it.</summary>
    [ProcedureKey(
        "nominal_wall",
        "Nominal wall, in place of schedule; a plate needs it.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? NominalWallMetres { get; init; }

    /// <summary>Elbow: bend radius by its standard name (with nps).</summary>
    [ProcedureKey("bend", "Elbow: bend radius by its standard name (with nps).")]
    public BendKind Bend { get; init; } = BendKind.LongRadius;

    /// <summary>Elbow: bend radius to the centre line, in place of bend.</summary>
    [ProcedureKey(
        "bend_radius",
        "Elbow: bend radius to the centre line, in place of bend.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? BendRadiusMetres { get; init; }

    /// <summary>Elbow: angle of the bend.</summary>
    [ProcedureKey("bend_angle", "Elbow: angle of the bend.", Dimension.Angle, Minimum = 0)]
    public double BendAngleRadians { get; init; } = Math.PI / 2;

    /// <summary>Straight pipe on either end of an elbow.</summary>
    [ProcedureKey(
        "straight_ends",
        "Elbow: straight pipe on either end; positions along count from the start of the bend.",
        Dimension.Length,
        Minimum = 0
    )]
    public double StraightEndsMetres { get; init; }

    /// <summary>Plate and pipe: length along.</summary>
    [ProcedureKey("length", "Plate and pipe: length along.", Dimension.Length, Minimum = 0)]
    public double LengthMetres { get; init; } = 0.2;

    /// <summary>Plate: width across.</summary>
    [ProcedureKey("width", "Plate: width across.", Dimension.Length, Minimum = 0)]
    public double WidthMetres { get; init; } = 0.1;
}
