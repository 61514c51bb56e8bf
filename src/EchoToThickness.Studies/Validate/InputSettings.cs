using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[[uncertainty]]</c>: a contribution that the scans do not show.</summary>
public sealed record InputSettings
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "What it is, such as \"temperature of the part\".", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>Standard uncertainty of the wall from it, metres.</summary>
    [ProcedureKey(
        "standard_uncertainty",
        "Standard uncertainty of the wall that comes from it.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double? StandardUncertaintyMetres { get; init; }

    /// <summary>Relative standard uncertainty of the wall from it.</summary>
    [ProcedureKey(
        "relative",
        "Or: standard uncertainty as a part of the wall.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 1
    )]
    public double? RelativeFraction { get; init; }

    /// <summary>Degrees of freedom.</summary>
    [ProcedureKey("degrees_of_freedom", "Degrees of freedom; left out: infinitely many.", Minimum = 1)]
    public double? DegreesOfFreedom { get; init; }

    /// <summary>Distribution.</summary>
    [ProcedureKey("distribution", "Its distribution, for the Monte Carlo evaluation.")]
    public InputShape Shape { get; init; } = InputShape.Normal;

    /// <summary>Where it comes from.</summary>
    [ProcedureKey("source", "Where the figure comes from; printed with the budget.")]
    public string Source { get; init; } = "";
}
