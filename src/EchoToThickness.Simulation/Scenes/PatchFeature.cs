using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.patch]]</c>: a large smooth corroded area, super-Gaussian in profile.</summary>
public sealed record PatchFeature
{
    /// <summary>For people.</summary>
    [ProcedureKey("name", "For people.")]
    public string Name { get; init; } = "";

    /// <summary>Centre along the component: a length from its start, an angle of the bend, or a fraction of the length.</summary>
    [ProcedureKey(
        "along",
        "Centre along the component: a length from its start, an angle of the bend, or a fraction of the length."
    )]
    public SceneLength Along { get; init; } = SceneLength.FromMetres(0);

    /// <summary>Centre around the girth (a plate: across): a length, an angle from the extrados, or a fraction of the girth.</summary>
    [ProcedureKey(
        "around",
        "Centre around the girth (a plate: across): a length, an angle from the extrados, or a fraction of the girth."
    )]
    public SceneLength Around { get; init; } = SceneLength.FromMetres(0);

    /// <summary>Length (full width at half depth).</summary>
    [ProcedureKey("length", "Length (full width at half depth).")]
    public SceneLength Length { get; init; } = SceneLength.FromMetres(100e-3);

    /// <summary>Width (full width at half depth).</summary>
    [ProcedureKey("width", "Width (full width at half depth).")]
    public SceneLength Width { get; init; } = SceneLength.FromMetres(60e-3);

    /// <summary>Depth at the centre: a length or a fraction of the nominal wall.</summary>
    [ProcedureKey("depth", "Depth at the centre: a length or a fraction of the nominal wall.")]
    public WallDepth? Depth { get; init; }

    /// <summary>Turn of the length's direction away from the along axis, towards around.</summary>
    [ProcedureKey("angle", "Turn of the length's direction away from the along axis, towards around.", Dimension.Angle)]
    public double AngleRadians { get; init; }

    /// <summary>Exponent of the super-Gaussian: 2 is a Gaussian, more is flatter with steeper sides.</summary>
    [ProcedureKey(
        "smoothness",
        "Exponent of the super-Gaussian: 2 is a Gaussian, more is flatter with steeper sides.",
        Minimum = 1,
        Maximum = 20
    )]
    public double Smoothness { get; init; } = 2;

    /// <summary>Depth gained each year of [survey] years.</summary>
    [ProcedureKey("growth_per_year", "Depth gained each year of [survey] years.", Dimension.LengthPerYear, Minimum = 0)]
    public double GrowthMetresPerYear { get; init; } = 0;
}
