using EchoToThickness.Components;
using EchoToThickness.Reporting.Figures;
using static EchoToThickness.Reporting.Documents.ReportWords;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Coverage, maps and profiles, thin regions with pictures and A-scans, statistics, unmeasured metal.</summary>
internal static class InspectionBody
{
    private const int MostRegions = 50;

    public static void Add(List<ReportBlock> blocks, RunJson root, InspectionMap? map, InspectionSources sources)
    {
        Coverage(blocks, root);
        Maps(blocks, root, map);
        Regions(blocks, root, map, sources);
        Statistics(blocks, root, map);
        Extremes(blocks, root["extremes"]);
    }

    internal static double? Limit(RunJson root) =>
        root["description.thresholds"].Items.Select(t => (double?)t["threshold_metres"].Number).LastOrDefault();

    private static void Coverage(List<ReportBlock> blocks, RunJson root)
    {
        blocks.Add(new HeadingBlock(2, "Coverage"));
        blocks.Add(
            new TableBlock(
                "Coverage by zone, true outer areas",
                ["zone", "required", "scanned", "measured", "lost"],
                [
                    .. root["coverage.zones"]
                        .Items.Select(z =>
                            (string[])
                                [
                                    z["zone"].Text is { Length: > 0 } name ? Spaced(name) : "all",
                                    Area(z["required_square_metres"].Number),
                                    Percent(z["scanned_square_metres"].Number / z["required_square_metres"].Number),
                                    Percent(z["measured_square_metres"].Number / z["required_square_metres"].Number),
                                    string.Join(
                                        ", ",
                                        z["lost_square_metres"]
                                            .Members.Select(m => $"{Spaced(m.Name)} {Area(m.Value.Number)}")
                                    ),
                                ]
                        ),
                ]
            )
        );
        RunJson disc = root["coverage.largest_disc"];
        if (disc.Exists)
            blocks.Add(
                new ParagraphBlock(
                    $"Largest disc without a measured wall: {Mm(disc["diameter_metres"].Number, 1)} across, at {InspectionHead.Place(disc["centre"])}."
                )
            );
        IReadOnlyList<RunJson> lost = root["coverage.lost"].Items;
        if (lost.Count > 0)
            blocks.Add(
                new TableBlock(
                    Of(
                        $"Places scanned without a wall, three cells or more ({Math.Min(20, lost.Count)} of {lost.Count})"
                    ),
                    ["place", "area", "disc", "mostly", "cell at its middle"],
                    [
                        .. lost.Take(20)
                            .Select(p =>
                                (string[])
                                    [
                                        InspectionHead.Place(p["disc.centre"]),
                                        Area(p["area_square_metres"].Number),
                                        Mm(p["disc.diameter_metres"].Number, 1),
                                        Spaced(p["cause"].Text),
                                        InspectionHead.Cell(p["source"]),
                                    ]
                            ),
                    ]
                )
            );
    }

    private static void Maps(List<ReportBlock> blocks, RunJson root, InspectionMap? map)
    {
        blocks.Add(new HeadingBlock(2, "Map and profiles"));
        double? limit = Limit(root);
        string least = Mm(root["description.minimum.measured_metres"].Number);
        string place = InspectionHead.Place(root["description.minimum.position"]);
        if (map is null)
            blocks.Add(new ParagraphBlock("The map is not drawn: the grid is not at hand."));
        else
        {
            blocks.Add(
                new FigureBlock(
                    map.WallPng(limit),
                    $"Map of the wall on the unrolled component. The smallest wall, {least}, lies at {place}. {Percent(root["coverage.whole.measured_square_metres"].Number / root["coverage.whole.required_square_metres"].Number)} of the component has a wall.",
                    "Wall thickness. Dark is thick, light is thin; the order is in the lightness. Nothing is smoothed or filled."
                        + (limit is { } l ? $" The line bounds what is thinner than {Mm(l)}." : "")
                )
            );
            blocks.Add(
                new FigureBlock(
                    map.UncertaintyPng(),
                    $"Map of the standard uncertainty of the wall; its typical value is {Um(root["description.typical_uncertainty_metres"].Number)}.",
                    "Standard uncertainty (k = 1), given that the paired echoes are the right ones."
                )
            );
        }
        blocks.Add(
            new FigureBlock(
                Profiles(root),
                $"Two curves: the smallest wall of every place along and of every place around. The lowest point of both is {least}.",
                "Profiles of the smallest wall. Grey lines: the limits. A gap: no wall was measured there."
            )
        );
    }

    private static byte[] Profiles(RunJson root)
    {
        CurvePanel Panel(string name, string title, string axis)
        {
            RunJson profile = root["description." + name];
            double[] x = [.. profile["positions_metres"].Numbers.Select(v => v * 1e3)];
            double[] y = [.. profile["thickness_metres"].Numbers.Select(v => v * 1e3)];
            double[] none = [.. y.Select(_ => double.NaN)];
            return new CurvePanel
            {
                Title = title,
                XLabel = axis + ", mm",
                YLabel = "smallest wall, mm",
                Curves = [new Curve(0, x, y, none, none)],
                Levels = [.. root["description.thresholds"].Items.Select(t => t["threshold_metres"].Number * 1e3)],
            };
        }
        return ReportFigures.Png(path =>
            CurveFigure.Save(
                "Profiles of the smallest wall",
                "The smallest wall of all cells at the same place along, and at the same place around.",
                [Panel("along_profile", "along", "along"), Panel("around_profile", "around", "around")],
                ["smallest wall"],
                path
            )
        );
    }

    private static void Regions(List<ReportBlock> blocks, RunJson root, InspectionMap? map, InspectionSources sources)
    {
        blocks.Add(new HeadingBlock(2, "Thin regions"));
        IReadOnlyList<RunJson> regions = root["regions"].Items;
        IReadOnlyList<RunJson> cells = root["region_cells"].Items;
        IReadOnlyList<RunJson> sure = root["region_borne_out"].Items;
        if (regions.Count == 0)
        {
            blocks.Add(
                new ParagraphBlock("No region: the plan gives no limit for regions, or no measured wall lies below it.")
            );
            Explained(blocks, "The smallest wall", root["minimum_cell"], sources);
            return;
        }
        int[] order =
        [
            .. Enumerable
                .Range(0, regions.Count)
                .OrderBy(k => regions[k]["smallest_wall_metres"].Number)
                .ThenBy(k => k),
        ];
        blocks.Add(
            new TableBlock(
                Of($"Thin regions, the thinnest first ({Math.Min(MostRegions, regions.Count)} of {regions.Count})"),
                [
                    "region",
                    "kind",
                    "smallest wall",
                    "borne out",
                    "depth",
                    "length",
                    "width",
                    "area",
                    "middle",
                    "deepest cell",
                    "remark",
                ],
                [
                    .. order
                        .Take(MostRegions)
                        .Select(k =>
                            (string[])
                                [
                                    Count(regions[k]["number"].Whole),
                                    Spaced(regions[k]["kind"].Text),
                                    $"{Mm(regions[k]["smallest_wall_metres"].Number)} ± {Mm(regions[k]["smallest_wall_uncertainty_metres"].Number, 3)}",
                                    k < sure.Count && sure[k].Exists ? Mm(sure[k]["wall_metres"].Number) : "no",
                                    Mm(regions[k]["depth_metres"].Number),
                                    Mm(regions[k]["length_metres"].Number, 1),
                                    Mm(regions[k]["width_metres"].Number, 1),
                                    Area(regions[k]["area_square_metres"].Number),
                                    $"along {Mm(regions[k]["centroid_along_metres"].Number, 0)}, around {Mm(regions[k]["centroid_around_metres"].Number, 0)}",
                                    k < cells.Count ? InspectionHead.Cell(cells[k]) : "",
                                    regions[k]["open_cells"].Whole > 0 ? "may go on where nothing was measured" : "",
                                ]
                        ),
                ]
            )
        );
        foreach (int k in order.Take(sources.Regions))
        {
            string number = Count(regions[k]["number"].Whole);
            blocks.Add(new HeadingBlock(3, "Region " + number));
            string wall = Mm(regions[k]["smallest_wall_metres"].Number);
            if (map is not null)
                blocks.Add(
                    new FigureBlock(
                        map.RegionPng(regions[k], Limit(root)),
                        $"Map of region {number}: smallest wall {wall}, {Mm(regions[k]["length_metres"].Number, 1)} long and {Mm(regions[k]["width_metres"].Number, 1)} wide.",
                        $"Region {number} with the cells around it; smallest wall {wall}."
                    )
                );
            Explained(blocks, "Region " + number, k < cells.Count ? cells[k] : default, sources);
        }
    }

    private static void Explained(List<ReportBlock> blocks, string what, RunJson cell, InspectionSources sources)
    {
        if (!cell.Exists)
        {
            blocks.Add(new ParagraphBlock("The smallest wall is not that of one cell, so no A-scan stands for it."));
            return;
        }
        var source = new CellSource(cell["line"].Text, cell["scan"].Whole, cell["beam"].Whole);
        if (sources.Explain?.Invoke(source) is not { } explained)
        {
            blocks.Add(
                new ParagraphBlock(
                    $"The A-scan of its deepest cell ({InspectionHead.Cell(cell)}) is not shown. "
                        + (sources.StackNote.Length > 0 ? sources.StackNote : "The stack is not at hand.")
                )
            );
            return;
        }
        string wall = Mm(explained.WallMetres, 3);
        blocks.Add(
            new FigureBlock(
                explained.Png,
                $"A-scan of {InspectionHead.Cell(cell)} with interface, gates, candidate echoes and the pair that gives {wall}. The decisions follow in words.",
                $"{what}: A-scan of its deepest cell ({InspectionHead.Cell(cell)}), measured again: {wall}."
            )
        );
        blocks.Add(new LiteralBlock(explained.Page.TrimEnd('\n')));
    }

    private static void Statistics(List<ReportBlock> blocks, RunJson root, InspectionMap? map)
    {
        RunJson d = root["description"];
        blocks.Add(new HeadingBlock(2, "Statistics"));
        if (map is not null)
            blocks.Add(
                new FigureBlock(
                    map.HistogramPng(Limit(root)),
                    $"Histogram of the walls: mean {Mm(d["mean_metres"].Number)}, standard deviation {Mm(d["standard_deviation_metres"].Number)}.",
                    "How many cells have which wall."
                )
            );
        blocks.Add(
            new FactsBlock([
                ("Cells with a wall", Count(d["measured_cells"].Whole)),
                ("Mean, by area", Mm(d["mean_metres"].Number, 3)),
                ("Standard deviation", Mm(d["standard_deviation_metres"].Number, 3)),
                ("Most frequent wall", Mm(d["mode_metres"].Number)),
                ("Largest wall", Mm(d["maximum_metres"].Number)),
                ("Smallest under any rule", Mm(root["smallest_credible_metres"].Number)),
                (
                    "Bias of the minimum",
                    $"{Um(d["minimum.bias_metres"].Number)} over {Count(d["minimum.contenders"].Whole)} cells that noise cannot tell apart"
                ),
            ])
        );
        blocks.Add(
            new TableBlock(
                "Part of the measured area that is thinner",
                ["part", "wall"],
                [
                    .. d["quantiles"]
                        .Items.Select(q =>
                            (string[])
                                [Plain(q["probability"].Number * 100, "0.##") + " %", Mm(q["thickness_metres"].Number)]
                        ),
                ]
            )
        );
        if (d["thresholds"].Items.Count > 0)
            blocks.Add(
                new TableBlock(
                    "Areas below limits",
                    ["limit", "area", "of the measured", "by probability", "surely (95 %)", "possibly", "at most"],
                    [
                        .. d["thresholds"]
                            .Items.Zip(root["below_areas"].Items)
                            .Select(p =>
                                (string[])
                                    [
                                        Mm(p.First["threshold_metres"].Number),
                                        Area(p.First["area_below_square_metres"].Number),
                                        Percent(p.First["fraction_below"].Number),
                                        Area(p.Second["expected_square_metres"].Number),
                                        Area(p.First["surely_below_square_metres"].Number),
                                        Area(p.First["possibly_below_square_metres"].Number),
                                        Area(p.Second["at_most_square_metres"].Number),
                                    ]
                            ),
                    ]
                )
            );
        RunJson spatial = root["spatial"];
        if (!spatial.Exists)
            return;
        blocks.Add(
            new ParagraphBlock(
                $"Walls stay alike over {Mm(spatial["along_correlation_metres"].Number, 1)} along and {Mm(spatial["around_correlation_metres"].Number, 1)} around; the map is worth about {Plain(spatial["effective_sample_size"].Number, "0")} independent cells."
            )
        );
        if (spatial["notes"].Texts is { Count: > 0 } notes)
            blocks.Add(new ListBlock(notes));
    }

    private static void Extremes(List<ReportBlock> blocks, RunJson extremes)
    {
        blocks.Add(new HeadingBlock(2, "Metal without a measured wall"));
        if (!extremes.Exists)
        {
            blocks.Add(new ParagraphBlock("No statement was asked for, or there are too few measured cells for one."));
            return;
        }
        blocks.Add(
            new ParagraphBlock(
                $"Asked for: {Area(extremes["settings.target_area_square_metres"].Number)}. Verdict: {Spaced(extremes["verdict"].Text)}."
                    + (
                        extremes["headline"].Exists
                            ? $" The smallest wall there lies above {Mm(extremes["headline.lower_bound_metres"].Number)} with {Percent(extremes["settings.confidence"].Number)} confidence ({extremes["headline.label"].Text})."
                            : ""
                    )
            )
        );
        if (extremes["reasons"].Texts is { Count: > 0 } reasons)
            blocks.Add(new NoticeBlock("Reasons", reasons));
        Table(
            "Tests of the assumptions",
            ["test", "statistic", "probability"],
            "tests",
            t => [t["name"].Text, Plain(t["statistic"].Number), Plain(t["probability"].Number, "0.0000")]
        );
        Table(
            "Sizes of blocks that were looked at",
            ["along", "around", "blocks", "scale", "chosen", "why"],
            "block_sizes",
            b =>
                [
                    Mm(b["along_metres"].Number, 0),
                    Mm(b["around_metres"].Number, 0),
                    Count(b["blocks"].Whole),
                    Mm(b["scale_metres"].Number, 3),
                    b["is_chosen"].Truth ? "yes" : "no",
                    b["reason"].Text,
                ]
        );
        Table(
            "Statements by model",
            ["model", "values", "median smallest", "lower bound", "without its interval", "noise removed"],
            "statements",
            s =>
                [
                    s["label"].Text,
                    Count(s["count"].Whole),
                    Mm(s["median_smallest_metres"].Number),
                    Mm(s["lower_bound_metres"].Number),
                    Mm(s["plug_in_bound_metres"].Number),
                    Mm(s["noise_removed_bound_metres"].Number),
                ]
        );
        RunJson test = extremes["self_test"];
        if (test.Exists)
            blocks.Add(
                new FactsBlock([
                    .. test.Members.Select(m =>
                        (
                            "Self-test: " + Spaced(m.Name),
                            m.Value.Text is { Length: > 0 } words ? words : Plain(m.Value.Number)
                        )
                    ),
                ])
            );

        void Table(string caption, string[] columns, string key, Func<RunJson, string[]> row)
        {
            IReadOnlyList<RunJson> items = extremes[key].Items;
            if (items.Count > 0)
                blocks.Add(new TableBlock(caption, columns, [.. items.Select(row)]));
        }
    }
}
