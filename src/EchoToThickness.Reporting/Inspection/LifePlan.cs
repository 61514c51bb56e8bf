using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[life]</c>: remaining life with an interval; screening only.</summary>
public sealed record LifePlan
{
    /// <summary>Switch.</summary>
    [ProcedureKey(
        "on",
        "Whether a remaining life is asked for; needs a required wall ([design]) and a rate ([change], or 'rate')."
    )]
    public bool On { get; init; }

    /// <summary>Rate.</summary>
    [ProcedureKey("rate", "Corrosion rate; left out: the governing one of [change], by zone.", Dimension.LengthPerYear)]
    public double? RateMetresPerYear { get; init; }

    /// <summary>Uncertainty of the rate.</summary>
    [ProcedureKey("rate_uncertainty", "Standard uncertainty of 'rate'.", Dimension.LengthPerYear, Minimum = 0)]
    public double RateUncertaintyMetresPerYear { get; init; }

    /// <summary>Class limit.</summary>
    [ProcedureKey("class_limit_years", "Longest interval of the inspection class in years; 0: none.", Minimum = 0)]
    public double ClassLimitYears { get; init; }

    /// <summary>Confidence.</summary>
    [ProcedureKey("confidence", "Confidence of the two-sided interval.", Minimum = 0.5, Maximum = 0.999)]
    public double Confidence { get; init; } = 0.95;

    /// <summary>Draws.</summary>
    [ProcedureKey("draws", "Random draws of rate, wall and requirement.", Minimum = 100, Maximum = 10_000_000)]
    public int Draws { get; init; } = 20_000;
}
