using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[design]</c>: pressure design of the minimum required wall; screening only.</summary>
public sealed record DesignPlan
{
    /// <summary>Pressure.</summary>
    [ProcedureKey("pressure_mpa", "Internal design pressure, megapascals; 0: no assessment.", Minimum = 0)]
    public double PressureMegapascals { get; init; }

    /// <summary>Stress.</summary>
    [ProcedureKey("allowable_stress_mpa", "Allowable stress, megapascals.", Minimum = 0)]
    public double AllowableStressMegapascals { get; init; }

    /// <summary>Allowance.</summary>
    [ProcedureKey("allowance", "Mechanical, corrosion and erosion allowances.", Dimension.Length, Minimum = 0)]
    public double AllowanceMetres { get; init; }
}
