using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[change]</c>: what happened since earlier surveys of the same component.</summary>
public sealed record ChangePlan
{
    /// <summary>Date.</summary>
    [ProcedureKey("date", "Day of the survey that is analysed, as 2026-05-30; without it there is no rate.")]
    public string Date { get; init; } = "";

    /// <summary>False-discovery rate.</summary>
    [ProcedureKey(
        "false_discovery_rate",
        "Share of false ones among the cells called changed (Benjamini and Hochberg 1995).",
        Minimum = 0.0001,
        Maximum = 0.5
    )]
    public double FalseDiscoveryRate { get; init; } = 0.05;

    /// <summary>Only loss.</summary>
    [ProcedureKey("only_loss", "Whether only loss counts as change (one-sided), or growth too.")]
    public bool OnlyLoss { get; init; }

    /// <summary>Register.</summary>
    [ProcedureKey("register", "Whether surveys are laid on each other by correlation; else the datum decides.")]
    public bool Register { get; init; } = true;

    /// <summary>Along.</summary>
    [ProcedureKey("largest_shift_along", "Largest shift along that is looked for.", Dimension.Length, Minimum = 0)]
    public double LargestAlongMetres { get; init; } = 0.03;

    /// <summary>Around.</summary>
    [ProcedureKey(
        "largest_shift_around",
        "Largest shift around (rotation, on the outer surface) that is looked for.",
        Dimension.Length,
        Minimum = 0
    )]
    public double LargestAroundMetres { get; init; } = 0.03;

    /// <summary>Stretch.</summary>
    [ProcedureKey(
        "largest_stretch",
        "Largest stretch along that is looked for; 0 leaves stretch out.",
        Dimension.Fraction,
        Minimum = 0,
        Maximum = 0.2
    )]
    public double LargestStretch { get; init; } = 0.02;

    /// <summary>Placement uncertainty.</summary>
    [ProcedureKey(
        "placement_uncertainty",
        "Standard uncertainty of where the surveys lie on each other; left out: a tenth of a cell, or one cell where they could not be registered.",
        Dimension.Length,
        Minimum = 0
    )]
    public double? PlacementUncertaintyMetres { get; init; }

    /// <summary>Earlier surveys.</summary>
    [ProcedureKey("earlier", "An earlier survey; any number, in any order.")]
    public IReadOnlyList<EarlierSurveyPlan> Earlier { get; init; } = [];

    internal static bool TryDate(string text, out DateOnly day) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out day);
}
