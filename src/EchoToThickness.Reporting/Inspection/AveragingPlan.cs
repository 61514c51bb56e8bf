using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[averaging]</c>: thickness averaging on critical thickness profiles; screening only, formulas from memory.</summary>
public sealed record AveragingPlan
{
    /// <summary>Switch.</summary>
    [ProcedureKey(
        "on",
        "Whether walls are averaged along profiles of the smallest wall (API 579-1 Part 4, level 1, unverified); needs a required wall."
    )]
    public bool On { get; init; }

    /// <summary>Future allowance.</summary>
    [ProcedureKey("future_allowance", "Loss expected until the next inspection.", Dimension.Length, Minimum = 0)]
    public double FutureAllowanceMetres { get; init; }

    /// <summary>Allowable factor.</summary>
    [ProcedureKey("allowable_strength_factor", "Allowable remaining strength factor RSFa.", Minimum = 0.1, Maximum = 1)]
    public double AllowableStrengthFactor { get; init; } = 0.9;
}
