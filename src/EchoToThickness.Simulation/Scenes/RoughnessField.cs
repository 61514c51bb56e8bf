using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[wall.roughness]]</c>: general corrosion as a Gaussian random field on the inside.</summary>
public sealed record RoughnessField
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

    /// <summary>Root mean square of the height.</summary>
    [ProcedureKey("rms", "Root mean square of the height.", Dimension.Length, Minimum = 0)]
    public double RmsMetres { get; init; } = 0.1e-3;

    /// <summary>Correlation length along.</summary>
    [ProcedureKey("correlation_along", "Correlation length along.", Dimension.Length, Minimum = 0)]
    public double CorrelationAlongMetres { get; init; } = 3e-3;

    /// <summary>Correlation length around; left out: as along.</summary>
    [ProcedureKey(
        "correlation_around",
        "Correlation length around; left out: as along.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? CorrelationAroundMetres { get; init; }

    /// <summary>Correlation function.</summary>
    [ProcedureKey("spectrum", "Correlation function.")]
    public RoughnessSpectrum Spectrum { get; init; } = RoughnessSpectrum.Gaussian;

    /// <summary>Power law: Hurst exponent.</summary>
    [ProcedureKey("hurst", "Power law: Hurst exponent.", Minimum = 0.05, Maximum = 1)]
    public double HurstExponent { get; init; } = 0.8;

    /// <summary>Power law: shortest wavelength.</summary>
    [ProcedureKey("cutoff", "Power law: shortest wavelength.", Dimension.Length, Minimum = 0)]
    public double? CutoffMetres { get; init; }

    /// <summary>Mean loss of wall: a length or a fraction of the nominal wall.</summary>
    [ProcedureKey("mean_loss", "Mean loss of wall: a length or a fraction of the nominal wall.")]
    public WallDepth? MeanLoss { get; init; }

    /// <summary>Width over which a region's edge fades.</summary>
    [ProcedureKey("taper", "Width over which a region's edge fades.", Dimension.Length, Minimum = 0)]
    public double TaperMetres { get; init; } = 5e-3;

    /// <summary>Depth gained each year of [survey] years.</summary>
    [ProcedureKey("growth_per_year", "Depth gained each year of [survey] years.", Dimension.LengthPerYear, Minimum = 0)]
    public double GrowthMetresPerYear { get; init; } = 0;
}
