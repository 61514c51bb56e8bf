using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[[criterion]]</c>: what must hold.</summary>
public sealed record CriterionSettings
{
    /// <summary>What is judged.</summary>
    [ProcedureKey("quantity", "What is judged.", Required = true)]
    public CriterionQuantity Quantity { get; init; }

    /// <summary>Largest length, metres.</summary>
    [ProcedureKey(
        "at_most",
        "Largest value, for quantities that are lengths.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 1
    )]
    public double? AtMostMetres { get; init; }

    /// <summary>Largest share.</summary>
    [ProcedureKey(
        "at_most_share",
        "Largest value, for quantities that are shares.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 1
    )]
    public double? AtMostFraction { get; init; }

    /// <summary>Smallest share.</summary>
    [ProcedureKey(
        "at_least_share",
        "Smallest value, for quantities that are shares.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 1
    )]
    public double? AtLeastFraction { get; init; }

    /// <summary>Largest number in a square metre.</summary>
    [ProcedureKey("at_most_per_square_metre", "Largest value, for false calls.", Minimum = 0)]
    public double? AtMostPerSquareMetre { get; init; }

    /// <summary>Why.</summary>
    [ProcedureKey("reason", "Where the limit comes from; printed with the verdict.")]
    public string Reason { get; init; } = "";
}
