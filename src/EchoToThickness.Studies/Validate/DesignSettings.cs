using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[design]</c>: what is expected, to find out how much must be scanned before anyone scans.</summary>
public sealed record DesignSettings
{
    /// <summary>Expected bias, metres.</summary>
    [ProcedureKey("bias", "Expected bias of readings.", Dimension.Length, Minimum = -0.1, Maximum = 0.1)]
    public double BiasMetres { get; init; } = 0.05e-3;

    /// <summary>Expected spread between features, metres.</summary>
    [ProcedureKey(
        "between",
        "Expected standard deviation between features and placements.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double BetweenMetres { get; init; } = 0.05e-3;

    /// <summary>Expected spread of cells of one reading, metres.</summary>
    [ProcedureKey(
        "within",
        "Expected standard deviation of cells of one feature in one scan.",
        Dimension.Length,
        Minimum = 0,
        Maximum = 0.1
    )]
    public double WithinMetres { get; init; } = 0.03e-3;

    /// <summary>Chance of a study to show what is true.</summary>
    [ProcedureKey(
        "power",
        "Chance that the study shows the claim, if what is expected is true.",
        Dimension.Fraction,
        Minimum = 0.5,
        Maximum = 0.999
    )]
    public double Power { get; init; } = 0.9;

    /// <summary>Expected size found half of the time, metres.</summary>
    [ProcedureKey(
        "a50",
        "Expected size that is found half of the time; left out: nothing is said of detection curves.",
        Dimension.Length,
        Minimum = 1e-5,
        Maximum = 1
    )]
    public double? A50Metres { get; init; }

    /// <summary>Expected size found nine times in ten, metres.</summary>
    [ProcedureKey(
        "a90",
        "Expected size that is found nine times in ten.",
        Dimension.Length,
        Minimum = 1e-5,
        Maximum = 1
    )]
    public double? A90Metres { get; init; }

    /// <summary>Largest a90/95 that serves, metres.</summary>
    [ProcedureKey("a90_95", "Largest a90/95 that serves the claim.", Dimension.Length, Minimum = 1e-5, Maximum = 1)]
    public double? TargetMetres { get; init; }

    /// <summary>Smallest feature, metres.</summary>
    [ProcedureKey("smallest", "Smallest feature of the study.", Dimension.Length, Minimum = 1e-5, Maximum = 1)]
    public double SmallestMetres { get; init; } = 1e-3;

    /// <summary>Largest feature, metres.</summary>
    [ProcedureKey("largest", "Largest feature of the study.", Dimension.Length, Minimum = 1e-5, Maximum = 1)]
    public double LargestMetres { get; init; } = 12e-3;
}
