namespace EchoToThickness.Statistics.Assessment;

/// <summary>A corroded pipe under internal pressure.</summary>
public sealed record PipeLoad
{
    /// <summary>What it is: B31G methods are for straight pipe.</summary>
    public required ComponentKind Component { get; init; }

    /// <summary>Outside diameter, metres.</summary>
    public required double OutsideDiameterMetres { get; init; }

    /// <summary>Nominal wall, metres.</summary>
    public required double WallMetres { get; init; }

    /// <summary>Specified minimum yield strength, pascals.</summary>
    public required double YieldStrengthPascals { get; init; }

    /// <summary>Pressure against which the safe one is judged, pascals; 0 when none.</summary>
    public double OperatingPressurePascals { get; init; }

    /// <summary>Safety factor on the failure pressure; B31G-2012 asks for at least 1.25 (from memory).</summary>
    public double SafetyFactor { get; init; } = 1.39;

    /// <summary>Whether loads other than pressure (bending, axial, vibration) matter; then the methods are refused.</summary>
    public bool HasOtherLoads { get; init; }

    /// <summary>Whether the loss is metal loss by corrosion; cracks, grooves by mechanical damage and weld faults are refused.</summary>
    public bool IsBluntMetalLoss { get; init; } = true;
}
