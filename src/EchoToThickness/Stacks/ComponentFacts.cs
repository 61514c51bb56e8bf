namespace EchoToThickness.Stacks;

/// <summary>The component that was scanned; lengths in metres, angles in radians, unknown facts null.</summary>
public sealed record ComponentFacts
{
    /// <summary>Plate, pipe or elbow.</summary>
    public ComponentKind Kind { get; init; } = ComponentKind.Plate;

    /// <summary>Outside diameter of pipe or elbow, metres.</summary>
    public double? OutsideDiameterMetres { get; init; }

    /// <summary>Nominal wall, metres.</summary>
    public double? NominalWallMetres { get; init; }

    /// <summary>Bend radius of an elbow to the centre line, metres.</summary>
    public double? BendRadiusMetres { get; init; }

    /// <summary>Bend angle of an elbow, radians.</summary>
    public double? BendAngleRadians { get; init; }

    /// <summary>Straight pipe on either end of an elbow, metres.</summary>
    public double? StraightEndsMetres { get; init; }

    /// <summary>Plate and pipe: length along, metres.</summary>
    public double? LengthMetres { get; init; }

    /// <summary>Plate: width across, metres.</summary>
    public double? WidthMetres { get; init; }
}
