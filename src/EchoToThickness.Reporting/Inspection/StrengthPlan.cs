using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[strength]</c>: remaining strength of straight pipe by B31G; screening only.</summary>
public sealed record StrengthPlan
{
    /// <summary>Yield strength.</summary>
    [ProcedureKey(
        "yield_strength",
        "Specified minimum yield strength; 0: no remaining strength is computed.",
        Dimension.Pressure,
        Minimum = 0
    )]
    public double YieldStrengthPascals { get; init; }

    /// <summary>Safety factor.</summary>
    [ProcedureKey(
        "safety_factor",
        "Safety factor on the failure pressure; B31G-2012 asks for at least 1.25 (from memory).",
        Minimum = 1,
        Maximum = 10
    )]
    public double SafetyFactor { get; init; } = 1.39;

    /// <summary>Other loads.</summary>
    [ProcedureKey(
        "other_loads",
        "Whether loads other than internal pressure matter (bending, axial, vibration); the methods are refused then."
    )]
    public bool OtherLoads { get; init; }

    /// <summary>Blunt metal loss.</summary>
    [ProcedureKey(
        "blunt_metal_loss",
        "False for cracks, mechanical damage and faults of welds; the methods are refused then."
    )]
    public bool BluntMetalLoss { get; init; } = true;
}
