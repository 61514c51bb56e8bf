using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[design]</c>: pressure design of the minimum required wall; screening only.</summary>
public sealed record DesignPlan
{
    /// <summary>Pressure.</summary>
    [ProcedureKey(
        "pressure",
        "Internal design gauge pressure; 0: no wall is computed (ASME B31.3-2016, 304.1.2 and 304.2.1).",
        Dimension.Pressure,
        Minimum = 0
    )]
    public double PressurePascals { get; init; }

    /// <summary>Stress.</summary>
    [ProcedureKey(
        "allowable_stress",
        "Allowable stress of the material at temperature.",
        Dimension.Pressure,
        Minimum = 0
    )]
    public double AllowableStressPascals { get; init; }

    /// <summary>Allowance.</summary>
    [ProcedureKey(
        "allowance",
        "Sum of the allowances that the required wall holds; without that for corrosion where a remaining life is asked for.",
        Dimension.Length,
        Minimum = 0
    )]
    public double AllowanceMetres { get; init; }

    /// <summary>E.</summary>
    [ProcedureKey("quality_factor", "Quality factor E of the longitudinal joint.", Minimum = 0.01, Maximum = 1)]
    public double QualityFactor { get; init; } = 1;

    /// <summary>W.</summary>
    [ProcedureKey("weld_factor", "Weld joint strength reduction factor W.", Minimum = 0.01, Maximum = 1)]
    public double WeldFactor { get; init; } = 1;

    /// <summary>Y.</summary>
    [ProcedureKey("coefficient_y", "Coefficient Y: 0.4 for ferritic steel to 482 degC.", Minimum = 0, Maximum = 1)]
    public double CoefficientY { get; init; } = 0.4;

    /// <summary>Required wall.</summary>
    [ProcedureKey(
        "required_wall",
        "Required wall from a calculation of one's own, for all places, in place of the pressure design's.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? RequiredWallMetres { get; init; }

    /// <summary>Its uncertainty.</summary>
    [ProcedureKey(
        "required_wall_uncertainty",
        "Standard uncertainty of the required wall, for a remaining life.",
        Dimension.Length,
        Minimum = 0
    )]
    public double RequiredWallUncertaintyMetres { get; init; }
}
