namespace EchoToThickness.Statistics.Assessment;

/// <summary>Input of the pressure design wall.</summary>
public sealed record PressureDesignInput
{
    /// <summary>Internal design gauge pressure, pascals.</summary>
    public required double PressurePascals { get; init; }

    /// <summary>Outside diameter, metres.</summary>
    public required double OutsideDiameterMetres { get; init; }

    /// <summary>Allowable stress of the material at temperature, pascals.</summary>
    public required double AllowableStressPascals { get; init; }

    /// <summary>Quality factor E of the longitudinal joint.</summary>
    public double QualityFactor { get; init; } = 1;

    /// <summary>Weld joint strength reduction factor W.</summary>
    public double WeldReductionFactor { get; init; } = 1;

    /// <summary>Coefficient Y of Table 304.1.1: 0.4 for ferritic steel to 482 C and wall below D/6.</summary>
    public double CoefficientY { get; init; } = 0.4;

    /// <summary>Sum of mechanical, corrosion and erosion allowances c, metres.</summary>
    public double AllowanceMetres { get; init; }

    /// <summary>Manufacturer's minus tolerance as a fraction of the wall; 0.125 is usual. 0 when a measured wall is compared.</summary>
    public double MinusToleranceFraction { get; init; }
}
