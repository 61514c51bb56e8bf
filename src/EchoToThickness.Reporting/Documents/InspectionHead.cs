using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using static EchoToThickness.Reporting.Documents.ReportWords;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Result in brief, cautions, component, acquisition, procedure, calibration.</summary>
internal static class InspectionHead
{
    public static void Add(List<ReportBlock> blocks, RunJson root, InspectionMap? map, InspectionSources sources)
    {
        Brief(blocks, root);
        blocks.Add(new NoticeBlock("Cautions", root["cautions"].Texts));
        Component(blocks, root, sources);
        Acquisition(blocks, map, sources);
        Procedure(blocks, root, map);
        Calibration(blocks, map);
    }

    internal static string Place(RunJson position) =>
        $"along {Mm(position["along_metres"].Number, 1)}, around {Mm(position["around_metres"].Number, 1)}";

    internal static string Cell(RunJson cell) =>
        cell.Exists
            ? Of($"{cell["line"].Text}, scan {cell["scan"].Whole}, beam {cell["beam"].Whole}")
            : "of no single cell";

    private static void Brief(List<ReportBlock> blocks, RunJson root)
    {
        RunJson least = root["description.minimum"];
        RunJson sure = root["borne_out"];
        blocks.Add(new HeadingBlock(2, "Result in brief"));
        var facts = new List<(string, string)>
        {
            (
                "Smallest wall measured",
                $"{Mm(least["measured_metres"].Number)} ± {Mm(least["standard_uncertainty_metres"].Number, 3)} (k = 1); 95 % interval {Mm(least["lower_metres"].Number)} to {Mm(least["upper_metres"].Number)}; {Place(least["position"])}"
            ),
            (
                "Smallest wall that neighbouring cells bear out",
                sure.Exists
                    ? $"{Mm(sure["wall_metres"].Number)} ± {Mm(sure["standard_uncertainty_metres"].Number, 3)} (k = 1); {Place(sure["place"])}"
                    : "none"
            ),
        };
        foreach ((RunJson limit, RunJson either) in root["description.thresholds"].Items.Zip(root["below_areas"].Items))
            facts.Add(
                (
                    "Area below " + Mm(limit["threshold_metres"].Number),
                    $"{Area(limit["area_below_square_metres"].Number)}, {Percent(limit["fraction_below"].Number)} of the measured area; by probability {Area(either["expected_square_metres"].Number)}"
                )
            );
        RunJson whole = root["coverage.whole"];
        double required = whole["required_square_metres"].Number;
        facts.Add(
            (
                "Measured part of the component",
                $"{Percent(whole["measured_square_metres"].Number / required)} of {Area(required)}"
            )
        );
        facts.Add(
            (
                "Thin regions",
                root["regions"].Items.Count > 0 ? Count(root["regions"].Items.Count) : "none, or no limit was given"
            )
        );
        RunJson extremes = root["extremes"];
        facts.Add(
            (
                "Metal without a measured wall",
                !extremes.Exists ? "no statement was asked for"
                : extremes["headline"].Exists
                    ? $"above {Mm(extremes["headline.lower_bound_metres"].Number)} with {Percent(extremes["settings.confidence"].Number)} confidence; {Spaced(extremes["verdict"].Text)}"
                : "no statement: " + Spaced(extremes["verdict"].Text)
            )
        );
        blocks.Add(new FactsBlock(facts));
    }

    private static void Component(List<ReportBlock> blocks, RunJson root, InspectionSources sources)
    {
        blocks.Add(new HeadingBlock(2, "Component and acquisition"));
        blocks.Add(new HeadingBlock(3, "Component"));
        var facts = new List<(string, string)>();
        if (sources.ComponentName is { Length: > 0 } name)
            facts.Add(("Name", name));
        facts.Add(("Component", Capital(root["component"].Text)));
        facts.Add(("Positions", root["datum"].Text));
        IReadOnlyList<double> cells = root["cells"].Numbers;
        IReadOnlyList<double> pitch = root["pitch_metres"].Numbers;
        if (cells.Count == 2 && pitch.Count == 2)
            facts.Add(
                (
                    "Map",
                    Of(
                        $"{cells[0]:0} cells along by {cells[1]:0} around, {pitch[0] * 1e3:0.###} mm by {pitch[1] * 1e3:0.###} mm"
                    )
                )
            );
        blocks.Add(new FactsBlock(facts));
    }

    private static void Acquisition(List<ReportBlock> blocks, InspectionMap? map, InspectionSources sources)
    {
        blocks.Add(new HeadingBlock(3, "Acquisition"));
        if (map is not null)
            blocks.Add(
                new TableBlock(
                    "Lines of the scan",
                    ["line", "stack", "scan positions", "beams", "cells", "with a wall"],
                    [
                        .. map.Lines.Select(l =>
                            (string[])
                                [
                                    l.Name.Length > 0 ? l.Name : "line-01",
                                    l.Facts.StackName,
                                    Count(l.Scans),
                                    Count(l.Beams),
                                    Count((long)l.Scans * l.Beams),
                                    Count(l.Facts.WithThickness),
                                ]
                        ),
                    ]
                )
            );
        if (sources.Stack is not { } stack)
        {
            blocks.Add(
                new ParagraphBlock(
                    "Facts of the array and the time base are not shown. "
                        + (sources.StackNote.Length > 0 ? sources.StackNote : "The stack is not at hand.")
                )
            );
            return;
        }
        AcquisitionFacts a = stack.Acquisition;
        string Or(double? value, Func<double, string> words) => value is { } v ? words(v) : "not recorded";
        blocks.Add(
            new FactsBlock([
                ("Frequency", Or(a.FrequencyHz, v => Of($"{v / 1e6:0.##} MHz"))),
                ("Bandwidth at -6 dB", Or(a.BandwidthFraction, v => Of($"{v * 100:0} %"))),
                ("Aperture along the array", Or(a.ApertureMetres, v => Mm(v))),
                ("Elevation", Or(a.ElevationMetres, v => Mm(v))),
                ("Element pitch", Or(a.PitchMetres, v => Mm(v))),
                ("Elements", a.Elements is { } n ? Count(n) : "not recorded"),
                ("Gain", Or(a.GainDecibels, v => Of($"{v:0.#} dB"))),
                ("Averages", a.Averages is { } m ? Count(m) : "not recorded"),
                (
                    "Sampling",
                    Of(
                        $"{stack.TimeBase.SampleRateHz / 1e6:0.###} MHz, {stack.Shape.Samples} samples, from {stack.TimeBase.StartSeconds * 1e6:0.###} µs after the pulse"
                    )
                ),
                ("Sample type", stack.SampleType.ToString()),
                ("Temperature", Or(a.TemperatureCelsius, v => Of($"{v:0.#} °C"))),
            ])
        );
    }

    private static void Procedure(List<ReportBlock> blocks, RunJson root, InspectionMap? map)
    {
        blocks.Add(new HeadingBlock(2, "Procedure"));
        if (map?.Procedure is not { } procedure)
        {
            blocks.Add(
                new ParagraphBlock(
                    $"The procedure is the one with SHA-256 {root["procedure_sha256"].Text}. Its settings are in the grid, which is not at hand."
                )
            );
            return;
        }
        IReadOnlyDictionary<string, string> values = TomlBinder.Values(procedure);
        blocks.Add(
            new FactsBlock([
                ("Name", values.GetValueOrDefault("procedure.name", "")),
                ("Note", values.GetValueOrDefault("procedure.note", "") is { Length: > 0 } note ? note : "none"),
                ("SHA-256", root["procedure_sha256"].Text),
            ])
        );
        IReadOnlyList<(string Name, string Value, string Meaning)> changed = SettingWords.Changed(procedure);
        if (changed.Count == 0)
            blocks.Add(new ParagraphBlock("Every setting has its default. All of them are explained in the appendix."));
        else
        {
            blocks.Add(
                new TableBlock(
                    "Settings that differ from the defaults",
                    ["setting", "value", "meaning"],
                    [.. changed.Select(c => (string[])[c.Name, c.Value, c.Meaning])]
                )
            );
            blocks.Add(new ParagraphBlock("All settings are explained in the appendix."));
        }
    }

    private static void Calibration(List<ReportBlock> blocks, InspectionMap? map)
    {
        blocks.Add(new HeadingBlock(2, "Calibration and velocity"));
        if (map is null)
        {
            blocks.Add(new ParagraphBlock("The velocity stands in the grid, which is not at hand."));
            return;
        }
        var facts = map.Facts;
        blocks.Add(
            new FactsBlock([
                (
                    "Velocity",
                    Of(
                        $"{facts.VelocityMetresPerSecond:0.0} m/s ± {facts.VelocityUncertaintyMetresPerSecond:0.0} m/s (k = 1)"
                    )
                ),
                ("Where it comes from", facts.VelocitySource),
            ])
        );
        if (facts.Corrections.Count > 0)
            blocks.Add(new ListBlock(facts.Corrections));
        string[] warnings = [.. map.Lines.SelectMany(l => l.Facts.Warnings).Distinct()];
        if (warnings.Length > 0)
            blocks.Add(new NoticeBlock("Warnings of the measurement", warnings));
    }
}
