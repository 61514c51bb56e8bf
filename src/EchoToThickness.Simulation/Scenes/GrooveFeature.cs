using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.groove]]</c>.</summary>
public sealed record GrooveFeature
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

    /// <summary>Length.</summary>
    [ProcedureKey("length", "Length.")]
    public SceneLength Length { get; init; } = SceneLength.FromMetres(50e-3);

    /// <summary>Width.</summary>
    [ProcedureKey("width", "Width.")]
    public SceneLength Width { get; init; } = SceneLength.FromMetres(6e-3);

    /// <summary>Depth: a length or a fraction of the nominal wall.</summary>
    [ProcedureKey("depth", "Depth: a length or a fraction of the nominal wall.")]
    public WallDepth? Depth { get; init; }

    /// <summary>Turn of the length's direction away from the along axis, towards around.</summary>
    [ProcedureKey("angle", "Turn of the length's direction away from the along axis, towards around.", Dimension.Angle)]
    public double AngleRadians { get; init; }

    /// <summary>Cross-section.</summary>
    [ProcedureKey("profile", "Cross-section.")]
    public GrooveProfile Profile { get; init; } = GrooveProfile.Round;

    /// <summary>Depth gained each year of [survey] years.</summary>
    [ProcedureKey("growth_per_year", "Depth gained each year of [survey] years.", Dimension.LengthPerYear, Minimum = 0)]
    public double GrowthMetresPerYear { get; init; } = 0;
}
