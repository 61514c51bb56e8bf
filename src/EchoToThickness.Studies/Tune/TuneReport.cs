using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>What a search found.</summary>
public sealed record TuneReport
{
    /// <summary>The study.</summary>
    public required TunePlan Plan { get; init; }

    /// <summary>Rule sets measured on all cells, smallest loss first, Pareto ranks set.</summary>
    public required IReadOnlyList<RuleSetResult> Ranked { get; init; }

    /// <summary>The base procedure.</summary>
    public required RuleSetResult Base { get; init; }

    /// <summary>The best rule sets with their neighbours, the chosen one first.</summary>
    public required IReadOnlyList<RobustRow> Best { get; init; }

    /// <summary>Rule sets that were dropped before they had seen all cells.</summary>
    public required int Dropped { get; init; }

    /// <summary>Cross-validation; null where nothing can be left out.</summary>
    public required CrossValidation? Validation { get; init; }

    /// <summary>Which keys matter; null with too few rule sets.</summary>
    public required Sensitivity? Sensitivity { get; init; }

    /// <summary>What changes between the chosen rule set and each of its neighbours, most first.</summary>
    public required IReadOnlyList<FlipRow> Flips { get; init; }

    /// <summary>What changes from the base procedure to the chosen one.</summary>
    public required FlipRow Gain { get; init; }

    /// <summary>Maps of the lines where most breaks.</summary>
    public required IReadOnlyList<BreakMap> Maps { get; init; }

    /// <summary>Cells that the chosen rule set measures worst.</summary>
    public required IReadOnlyList<WorstCell> Worst { get; init; }

    /// <summary>Cells measured, summed over rule sets, this time and found finished; depends on the journal, not part of the results.</summary>
    public required (long Measured, long Found) Work { get; init; }

    /// <summary>Where scans of reference blocks were laid on their drawings.</summary>
    public IReadOnlyList<(string Scan, string Block, DrawingRegistration Place)> Registrations =>
        [
            .. Plan
                .Points.OfType<StackPoint>()
                .SelectMany(p =>
                    p.Registrations.Select(
                        (r, block) => ($"{p} {p.LineOf(block)}".TrimEnd(), p.Drawing?.File.Header.Name ?? "", r)
                    )
                ),
        ];

    /// <summary>The chosen rule set.</summary>
    public RuleSetResult Winner => Best[0].Result;

    /// <summary>Names of ranges at whose end the chosen rule set lies.</summary>
    public IReadOnlyList<string> KeysAtEnds =>
        [.. Plan.Axes.Where((axis, i) => axis.IsEnd(Winner.RuleSet.Point[i])).Select(axis => axis.Name)];

    /// <summary>Whether the walls were known.</summary>
    public bool KnowsTruth => Plan.KnowsTruth;
}
