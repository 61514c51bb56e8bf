using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.deposit]]</c>: a deposit on the inside.</summary>
public sealed record DepositFeature
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

    /// <summary>Extent along; left out: everywhere.</summary>
    [ProcedureKey("length", "Extent along; left out: everywhere.")]
    public SceneLength? Length { get; init; }

    /// <summary>Extent around; left out: everywhere.</summary>
    [ProcedureKey("width", "Extent around; left out: everywhere.")]
    public SceneLength? Width { get; init; }

    /// <summary>Thickness.</summary>
    [ProcedureKey("thickness", "Thickness.", Dimension.Length, Minimum = 0)]
    public double ThicknessMetres { get; init; } = 2e-3;

    /// <summary>Longitudinal velocity.</summary>
    [ProcedureKey("velocity", "Longitudinal velocity.", Dimension.Velocity, Minimum = 100)]
    public double VelocityMetresPerSecond { get; init; } = 3500;

    /// <summary>Density.</summary>
    [ProcedureKey("density", "Density.", Dimension.Density, Minimum = 1)]
    public double DensityKilogramsPerCubicMetre { get; init; } = 3500;

    /// <summary>Attenuation one way at the array's frequency.</summary>
    [ProcedureKey("attenuation", "Attenuation one way at the array's frequency.", Dimension.Attenuation, Minimum = 0)]
    public double AttenuationDecibelsPerMetre { get; init; } = 500;
}
