using EchoToThickness.Components;
using EchoToThickness.Grids;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using static EchoToThickness.Reporting.Documents.ReportWords;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Assessment, uncertainty budget, ranked warnings, overrules and deviations, limits of the technique.</summary>
internal static class InspectionRest
{
    public static void Add(List<ReportBlock> blocks, RunJson root, InspectionMap? map, InspectionSources sources)
    {
        Assessment(blocks, root);
        Budget(blocks, root, map, sources);
        Warnings(blocks, root, map);
        Overrules(blocks, root);
        Limits(blocks, root, map, sources);
    }

    private static void Assessment(List<ReportBlock> blocks, RunJson root)
    {
        blocks.Add(new HeadingBlock(2, "Assessment"));
        IReadOnlyList<(string Name, RunJson Value)> walls = root["required_walls"].Members;
        if (walls.Count == 0)
            blocks.Add(
                new ParagraphBlock(
                    "No required wall was worked out: the plan gives no design pressure. This report judges nothing."
                )
            );
        else
            blocks.Add(
                new TableBlock(
                    "Minimum required wall by pressure design, screening only",
                    ["place", "required, with allowances", "basis"],
                    [
                        .. walls.Select(w =>
                            (string[])
                                [
                                    w.Name,
                                    w.Value["value"].Exists
                                        ? Mm(w.Value["value.with_allowance_metres"].Number)
                                        : "refused: " + w.Value["refusal"].Text,
                                    w.Value["basis.statement"].Text,
                                ]
                        ),
                    ]
                )
            );
        blocks.Add(
            new NoticeBlock(
                "Cautions",
                [
                    "A smallest wall under a required wall calls for an assessment by a competent person; one above it clears nothing that was not measured.",
                    "Loads other than pressure, local thin areas beside each other, and the rate of loss are not judged here.",
                ]
            )
        );
    }

    private static void Budget(List<ReportBlock> blocks, RunJson root, InspectionMap? map, InspectionSources sources)
    {
        blocks.Add(new HeadingBlock(2, "Uncertainty budget"));
        blocks.Add(
            new ParagraphBlock(
                "Three figures are kept apart: noise, independent in every cell; calibration, common to the whole map; and the chance that the paired echoes are the wrong ones, which no standard uncertainty holds."
            )
        );
        RunJson at = root["minimum_cell"];
        CellSource? cell = at.Exists ? new CellSource(at["line"].Text, at["scan"].Whole, at["beam"].Whole) : null;
        var rows = new List<string[]>();
        if (cell is not null && sources.Explain?.Invoke(cell) is { Budget.Count: > 0 } explained)
        {
            rows.AddRange(explained.Budget.Select(b => (string[])[b.Source.Trim(), Um(b.Metres)]));
            rows.Add(["combined", Um(explained.UncertaintyMetres)]);
        }
        else if (cell is not null && map is not null)
        {
            rows.Add(["noise", Um(map.At(cell, GridLayer.UncertaintyNoise))]);
            rows.Add(["calibration, common to the map", Um(map.At(cell, GridLayer.UncertaintyCalibration))]);
            rows.Add(["combined", Um(map.At(cell, GridLayer.Uncertainty))]);
        }
        if (rows.Count > 0)
            blocks.Add(
                new TableBlock(
                    $"Standard uncertainty (k = 1) of the smallest wall, {InspectionHead.Cell(at)}",
                    ["source", "standard uncertainty"],
                    rows
                )
            );
        double wrong = root["description.minimum.wrong_echo_probability"].Number;
        RunJson overlap = root["overlap"];
        blocks.Add(
            new FactsBlock([
                ("Typical over the map", Um(root["description.typical_uncertainty_metres"].Number)),
                (
                    "Chance of a wrong echo at the smallest wall",
                    double.IsFinite(wrong) ? Plain(wrong, "0.0000") : "not stated by this procedure"
                ),
                (
                    "Repeatability from overlaps",
                    overlap["cells"].Whole > 0
                        ? $"{Um(overlap["repeatability_metres"].Number)} from {Count(overlap["cells"].Whole)} values; the grid states {Um(overlap["stated_noise_metres"].Number)}"
                        : "no lines overlap, so none was measured"
                ),
            ])
        );
    }

    private static void Warnings(List<ReportBlock> blocks, RunJson root, InspectionMap? map)
    {
        blocks.Add(new HeadingBlock(2, "Warnings, ranked by their effect"));
        if (map is null)
        {
            blocks.Add(new ParagraphBlock("Not ranked: the grid is not at hand."));
            return;
        }
        blocks.Add(
            new ParagraphBlock(
                "The map is put together again without the cells that a warning is about. What changes is the weight of these cells in the result, not a correction of it: the first line is where to look first."
            )
        );
        IReadOnlyList<WarningEffect> ranked = WarningEffects.Rank(
            map.Map,
            map.Notes,
            map.Limits,
            root["borne_out.wall_metres"].Number
        );
        if (ranked.Count == 0)
        {
            blocks.Add(new ParagraphBlock("No measured cell carries a warning."));
            return;
        }
        blocks.Add(
            new TableBlock(
                $"Without these cells (now: smallest {Mm(root["description.minimum.measured_metres"].Number)})",
                [
                    "cells about which",
                    "cells",
                    "smallest wall",
                    "change",
                    .. map.Limits.Select(l => "change of area below " + Mm(l)),
                ],
                [
                    .. ranked.Select(e =>
                        (string[])
                            [
                                e.Warning,
                                Count(e.Cells),
                                double.IsFinite(e.MinimumMetres) ? Mm(e.MinimumMetres) : "no wall is left",
                                double.IsFinite(e.MinimumShiftMetres)
                                    ? Signed(e.MinimumShiftMetres * 1e3, "mm")
                                    : "all",
                                .. e.BelowShiftSquareMetres.Select(a => Signed(a * 1e4, "cm²")),
                            ]
                    ),
                ]
            )
        );
    }

    private static string Signed(double value, string unit) => Of($"{value:+0.00;-0.00;0.00} {unit}");

    private static void Overrules(List<ReportBlock> blocks, RunJson root)
    {
        blocks.Add(new HeadingBlock(2, "Overrules and deviations"));
        IReadOnlyList<RunJson> decisions = root["overrules"].Items;
        if (decisions.Count == 0)
            blocks.Add(new ParagraphBlock("No overrule: every wall is the machine's."));
        else
            blocks.Add(
                new TableBlock(
                    "Decisions of the reviewer",
                    ["decision", "kind", "line", "scans", "beams", "reason", "by", "time"],
                    [
                        .. decisions.Select(
                            (o, k) =>
                                (string[])
                                    [
                                        Count(k + 1),
                                        Spaced(o["kind"].Text),
                                        o["line"].Text,
                                        Of(
                                            $"{o["first_scan"].Whole} to {o["first_scan"].Whole + o["scans"].Whole - 1}"
                                        ),
                                        Of(
                                            $"{o["first_beam"].Whole} to {o["first_beam"].Whole + o["beams"].Whole - 1}"
                                        ),
                                        o["reason"].Text,
                                        o["by"].Text,
                                        o["time"].Text,
                                    ]
                        ),
                    ]
                )
            );
        RunJson effect = root["overrule_effect"];
        if (effect.Exists)
        {
            IReadOnlyList<double> limits =
            [
                .. root["description.thresholds"].Items.Select(t => t["threshold_metres"].Number),
            ];
            IReadOnlyList<double> machine = effect["machine_below_square_metres"].Numbers;
            IReadOnlyList<double> now = effect["below_square_metres"].Numbers;
            blocks.Add(
                new TableBlock(
                    $"What the overrules change ({Count(effect["cells"].Whole)} cells)",
                    ["figure", "by the machine", "with the overrules"],
                    [
                        [
                            "smallest wall",
                            Mm(effect["machine_minimum_metres"].Number),
                            Mm(effect["minimum_metres"].Number),
                        ],
                        .. limits.Select((l, k) => (string[])["area below " + Mm(l), Area(machine[k]), Area(now[k])]),
                        [
                            "bound of unmeasured metal",
                            Mm(effect["machine_bound_metres"].Number),
                            Mm(effect["bound_metres"].Number),
                        ],
                    ]
                )
            );
        }
        string[] positions =
        [
            .. root["position_faults"].Items.Select(f => f["words"].Text),
            .. root["positions_not_told"].Texts,
            .. root["position_corrections"].Texts,
        ];
        if (positions.Length > 0)
        {
            blocks.Add(new HeadingBlock(3, "Positions"));
            blocks.Add(new ListBlock(positions));
        }
        blocks.Add(
            new ParagraphBlock(
                "Deviations from the written inspection plan (to be filled in by the inspector): ________________________________"
            )
        );
    }

    private static void Limits(List<ReportBlock> blocks, RunJson root, InspectionMap? map, InspectionSources sources)
    {
        blocks.Add(new HeadingBlock(2, "Limits of the technique"));
        var words = new List<string>();
        if (map?.Procedure is { } procedure)
        {
            IReadOnlyDictionary<string, string> values = TomlBinder.Values(procedure);
            if (
                values.TryGetValue("wall.minimum", out string? thin)
                && values.TryGetValue("wall.maximum", out string? thick)
            )
                words.Add(
                    $"The procedure believes walls from {thin} to {thick} only; metal thinner than {thin} is not reported as a wall."
                );
            foreach (
                string gate in values.Keys.Where(k =>
                    k.StartsWith("gate[", StringComparison.Ordinal) && k.EndsWith("].start", StringComparison.Ordinal)
                )
            )
                words.Add(
                    $"The gate '{values.GetValueOrDefault(gate[..^5] + "name", gate)}' starts {values[gate]} after what it rides on: echoes before it are not seen (dead zone)."
                );
            AcquisitionFacts? a = sources.Stack?.Acquisition;
            double velocity = map.Facts.VelocityMetresPerSecond;
            if (a?.FrequencyHz is { } frequency && frequency > 0)
            {
                double length = velocity / frequency;
                words.Add(
                    Of(
                        $"The wavelength in the metal is {length * 1e3:0.00} mm. With a relative bandwidth of {(a.BandwidthFraction ?? 0.5) * 100:0} % a pulse fills about {length / (a.BandwidthFraction ?? 0.5) / 2 * 1e3:0.0} mm of wall, within which two echoes cannot be told apart by eye; reflectors nearer to a surface than this lie in a dead zone."
                    )
                );
                if (a.ApertureMetres is { } aperture)
                    words.Add(
                        Of(
                            $"The sound leaves an aperture of {aperture * 1e3:0.0} mm{(a.ElevationMetres is { } e ? Of($" by {e * 1e3:0.0} mm") : "")}. A pit narrower than the sound at the far wall sends back only a part of it: it may read too wide, too thick, or as a cell without a wall."
                        )
                    );
            }
        }
        IReadOnlyList<double> pitch = root["pitch_metres"].Numbers;
        if (pitch.Count == 2)
            words.Add(
                Of(
                    $"Cells lie {pitch[0] * 1e3:0.0} mm by {pitch[1] * 1e3:0.0} mm apart; a pit between two cells is seen only by the width of the sound."
                )
            );
        words.Add(
            "A smallest pit that is surely found can be stated only from blocks with pits of known size, measured with this procedure; see the report of a validation."
        );
        words.Add(
            "Coatings, deposits on the far wall, inclusions and rough or sloping far walls change echoes in ways that a time of flight does not show."
        );
        blocks.Add(new ListBlock(words));
    }
}
