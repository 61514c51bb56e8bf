using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Section <c>[component]</c>: what was scanned.</summary>
public sealed record ComponentLayout
{
    /// <summary>Shape.</summary>
    [ProcedureKey("kind", "Plate, pipe or elbow.")]
    public StoredComponent Kind { get; init; } = StoredComponent.Plate;

    /// <summary>Outside diameter.</summary>
    [ProcedureKey("outside_diameter", "Outside diameter of pipe or elbow.")]
    public ValueSource? OutsideDiameter { get; init; }

    /// <summary>Nominal wall.</summary>
    [ProcedureKey("nominal_wall", "Nominal wall.")]
    public ValueSource? NominalWall { get; init; }

    /// <summary>Bend radius.</summary>
    [ProcedureKey("bend_radius", "Bend radius of an elbow to its centre line.")]
    public ValueSource? BendRadius { get; init; }

    /// <summary>Bend angle.</summary>
    [ProcedureKey("bend_angle", "Bend angle of an elbow.")]
    public ValueSource? BendAngle { get; init; }
}
