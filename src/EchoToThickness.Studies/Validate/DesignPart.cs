using System.Globalization;
using EchoToThickness.Validation.Planning;

namespace EchoToThickness.Studies.Validate;

/// <summary>How much must be scanned for a claim, before anyone scans.</summary>
public static class DesignPart
{
    private const int Simulated = 500;

    /// <summary>Help for the design of a study.</summary>
    /// <param name="study">The study; its claim and <c>[design]</c> are used.</param>
    /// <exception cref="Procedures.ProcedureException">There is no <c>[design]</c>.</exception>
    public static IReadOnlyList<StatementSection> Of(ValidateStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        DesignSettings design =
            study.Design
            ?? throw new Procedures.ProcedureException(
                "The study does not say what is expected.",
                "section [design]",
                "add [design] with bias, between and within, as a small trial or experience suggests."
            );
        var sections = new List<StatementSection> { Accuracy(study.Claim, design) };
        sections.Add(Demonstration(study.Claim));
        if (design is { A50Metres: { } a50, A90Metres: { } a90 })
            sections.Add(Curve(study, design, a50, a90));
        return sections;
    }

    private static StatementSection Accuracy(ClaimSettings claim, DesignSettings design)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        double level = 1 - claim.Confidence;
        var lines = new List<IReadOnlyList<string>>();
        foreach (int cells in new[] { 1, 5, 20, 100 })
        {
            double deviation = SampleSize.ClusterMeanDeviation(design.BetweenMetres, design.WithinMetres, cells);
            int? equivalence = SampleSize.EquivalenceClusters(
                deviation,
                design.BiasMetres,
                claim.ToleranceMetres,
                design.Power,
                level
            );
            double between2 = design.BetweenMetres * design.BetweenMetres;
            double total2 = between2 + design.WithinMetres * design.WithinMetres;
            lines.Add([
                Words.Count(cells),
                (deviation * 1e3).ToString("0.0000", culture),
                equivalence is { } n ? Words.Count(n) : "never",
                total2 > 0 ? SampleSize.DesignEffect(cells, between2 / total2).ToString("0.0", culture) : "-",
            ]);
        }
        double single = Math.Sqrt(Math.Pow(design.BetweenMetres, 2) + Math.Pow(design.WithinMetres, 2));
        int? tolerance = SampleSize.ToleranceClusters(
            single,
            design.BiasMetres,
            claim.ToleranceMetres,
            design.Power,
            claim.Share,
            claim.Confidence
        );
        int? freedom = SampleSize.DeviationDegreesOfFreedom(1.5, claim.Confidence);
        return new StatementSection
        {
            Title = "How many features in how many scans: accuracy",
            Key = "design_accuracy",
            Text =
            [
                string.Create(
                    culture,
                    $"If the bias is {design.BiasMetres * 1e3:0.###} mm, features differ by {design.BetweenMetres * 1e3:0.###} mm and cells of one by {design.WithinMetres * 1e3:0.###} mm (standard deviations), then with a chance of {design.Power * 100:0.#} %:"
                ),
                tolerance is { } clusters
                    ? string.Create(
                        culture,
                        $"the ({claim.Confidence * 100:0.#} %, {claim.Share * 100:0.#} %) tolerance interval lies within +-{claim.ToleranceMetres * 1e3:0.###} mm from {clusters} features in scans on (one independent reading each)."
                    )
                    : string.Create(
                        culture,
                        $"the tolerance interval does not come to lie within +-{claim.ToleranceMetres * 1e3:0.###} mm however much is scanned: the claim is too narrow for what is expected."
                    ),
                string.Create(
                    culture,
                    $"A standard deviation of repeatability or reproducibility is known to within a factor of 1.5 from {freedom} degrees of freedom on: for operators that means {freedom + 1} of them."
                ),
                "More cells of the same feature in the same scan help little; more features, placements and scans do.",
            ],
            Columns =
            [
                "cells of each feature",
                "SD of a feature's mean mm",
                "features in scans to show the bias within the claim",
                "one cell is worth 1 / this",
            ],
            Lines = lines,
        };
    }

    private static StatementSection Demonstration(ClaimSettings claim)
    {
        double[] chances = [0.93, 0.95, 0.98, 0.99];
        return new StatementSection
        {
            Title = "How many features of one size: demonstration of 90 % detection",
            Key = "design_demonstration",
            Text =
            [
                "Equal features, one look at each (binomial). The chance to pass depends on what the true probability of detection is.",
            ],
            Columns =
            [
                "misses allowed",
                "features",
                .. chances.Select(c =>
                    string.Create(CultureInfo.InvariantCulture, $"passes if {c * 100:0} % is true, %")
                ),
            ],
            Lines =
            [
                .. Enumerable
                    .Range(0, 4)
                    .Select(misses =>
                    {
                        int features = SampleSize.DemonstrationFeatures(0.9, claim.Confidence, misses);
                        return (IReadOnlyList<string>)
                            [
                                Words.Count(misses),
                                Words.Count(features),
                                .. chances.Select(c =>
                                    Words.Value(
                                        SampleSize.DemonstrationPower(features, misses, c),
                                        StatementUnit.Percent
                                    )
                                ),
                            ];
                    }),
            ],
        };
    }

    private static StatementSection Curve(ValidateStudy study, DesignSettings design, double a50, double a90)
    {
        double target = design.TargetMetres ?? 1.3 * a90;
        var lines = new List<IReadOnlyList<string>>();
        foreach (int features in new[] { 60, 90, 120, 200 })
        {
            double[] sizes =
            [
                .. Enumerable
                    .Range(0, features)
                    .Select(i =>
                        design.SmallestMetres
                        * Math.Pow(design.LargestMetres / design.SmallestMetres, i / (features - 1.0))
                    ),
            ];
            DetectionPlan plan = DetectionPlan.Simulate(a50, a90, sizes, target, (ulong)study.Header.Seed, Simulated);
            lines.Add([
                Words.Count(features),
                Words.Figure(plan.Success, StatementUnit.Percent),
                Words.Value(plan.NoCurve, StatementUnit.Percent),
                Words.Value(plan.MedianLimit, StatementUnit.Millimetres),
            ]);
        }
        return new StatementSection
        {
            Title = "How many features of many sizes: curve of detection",
            Key = "design_curve",
            Text =
            [
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Simulated} simulated studies each, hits and misses at sizes spread evenly in ratio from {design.SmallestMetres * 1e3:0.##} to {design.LargestMetres * 1e3:0.##} mm, if a50 is {a50 * 1e3:0.##} mm and a90 {a90 * 1e3:0.##} mm. Serves: an a90/95 that exists and is at most {target * 1e3:0.##} mm."
                ),
            ],
            Columns = ["features", "studies that serve %", "without a curve %", "median a90/95 mm"],
            Lines = lines,
        };
    }
}
