namespace EchoToThickness.Velocity;

/// <summary>Sound velocities and density of a material at room temperature.</summary>
public sealed record Material
{
    /// <summary>Name as written in a procedure.</summary>
    public required string Name { get; init; }

    /// <summary>What exactly is meant.</summary>
    public required string Description { get; init; }

    /// <summary>Longitudinal velocity, metres per second.</summary>
    public required TabulatedValue Longitudinal { get; init; }

    /// <summary>Shear velocity, metres per second; null when the source gives none.</summary>
    public TabulatedValue? Shear { get; init; }

    /// <summary>Density, kilograms per cubic metre; null when the source gives none.</summary>
    public TabulatedValue? Density { get; init; }

    /// <summary>Whether the temperature coefficient of low-carbon steel may be used for it.</summary>
    public bool IsCarbonSteel { get; init; }
}
