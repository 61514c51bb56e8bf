using System.Globalization;
using EchoToThickness.Studies.Tune;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>The figures of a search.</summary>
public static class TuneFigureSet
{
    private const int MostEffects = 9;

    private static readonly (string Word, Color Colour)[] Kinds =
    [
        ("left out", Color.FromHex("#ffffff")),
        ("sound", Color.FromHex("#dbe7f3")),
        ("missing", Color.FromHex("#9aa1ab")),
        ("interface lost", Color.FromHex("#1565a8")),
        ("doubled", Color.FromHex("#b03a2e")),
        ("halved", Color.FromHex("#00736b")),
        ("echoes counted wrongly", Color.FromHex("#6a3fa0")),
        ("other, too thick", Color.FromHex("#c06a15")),
        ("other, too thin", Color.FromHex("#7b6a00")),
    ];

    /// <summary>Draws all figures in all forms that the study asks for.</summary>
    /// <param name="report">What the search found.</param>
    /// <param name="folder">Folder.</param>
    /// <returns>Names of the files.</returns>
    public static IReadOnlyList<string> Save(TuneReport report, string folder)
    {
        ArgumentNullException.ThrowIfNull(report);
        var files = new List<string>();
        foreach (string form in report.Plan.Study.Report.Figures)
        {
            string At(string name)
            {
                files.Add($"{name}.{form}");
                return Path.Combine(folder, $"{name}.{form}");
            }

            if (report.Plan.Objectives.Count > 1)
                TradeOffFigure.Save(report, At("trade-off"));
            if (report.Sensitivity is { } sensitivity)
            {
                SharesFigure.Save(report, At("sensitivity"));
                Effects(report, sensitivity, At("effects"));
            }
            for (int i = 0; i < report.Maps.Count; i++)
                Breaks(report, report.Maps[i], At(string.Create(CultureInfo.InvariantCulture, $"breaks-{i + 1}")));
            for (int i = 0; i < report.Maps.Count && report.Flips.Count > 0; i++)
                Flips(report, report.Maps[i], At(string.Create(CultureInfo.InvariantCulture, $"flips-{i + 1}")));
        }
        return files;
    }

    private static void Effects(TuneReport report, Sensitivity sensitivity, string path)
    {
        IReadOnlyList<VaryAxis> axes = report.Plan.Axes;
        int[] shown =
        [
            .. Enumerable.Range(0, axes.Count).OrderByDescending(i => sensitivity.Shares.Total[i]).Take(MostEffects),
        ];
        CurveFigure.Save(
            "What each key does to the loss",
            $"{report.Plan.Study.Header.Name}. The loss expected at each value, averaged over all other keys; by the surrogate.",
            [
                .. shown.Select(i =>
                {
                    VaryAxis axis = axes[i];
                    (double[] places, double[] loss) = sensitivity.Effects[i];
                    double[] unknown = Array.ConvertAll(places, _ => double.NaN);
                    return new CurvePanel
                    {
                        Title = axis.Name,
                        XLabel = axis.Unit,
                        YLabel = "loss",
                        XNames = axis.Ordered ? null : [.. places.Select(p => Short(axis.TextAt(p)))],
                        Curves =
                        [
                            new Curve(
                                0,
                                [.. places.Select((p, n) => axis.Ordered ? axis.NumberAt(p) : n)],
                                loss,
                                unknown,
                                unknown
                            ),
                        ],
                        Logarithmic = loss.All(l => l > 0),
                    };
                }),
            ],
            ["expected loss"],
            path
        );
    }

    private static string Short(string text)
    {
        string word = text.Length == 0 ? "as in base" : text;
        return word.Length > 26 ? word[..25] + "…" : word;
    }

    private static void Breaks(TuneReport report, BreakMap map, string path)
    {
        CategoryMap Map(string title, CellKind[] kinds) =>
            new()
            {
                Title = title,
                Scans = map.Info.Shape.Scans,
                Beams = map.Info.Shape.Beams,
                Categories = Array.ConvertAll(kinds, k => (byte)k),
                Legend = Kinds,
                ScanPositionsMetres = map.Info.ScanPositionsMetres,
                IndexPositionsMetres = map.Info.IndexPositionsMetres,
            };
        CategoryMapFigure.Save(
            $"What breaks where: {map.Name}",
            report.KnowsTruth
                ? $"{report.Plan.Study.Header.Name}. Cells in the legend: base procedure / chosen procedure."
                : $"{report.Plan.Study.Header.Name}. No wall is known: measured or missing, nothing else. Cells in the legend: base / chosen.",
            [Map("base procedure", map.BaseKinds), Map("chosen procedure", map.Kinds)],
            path
        );
    }

    private static void Flips(TuneReport report, BreakMap map, string path)
    {
        int most = Math.Max(1, map.Flips.Max());
        var legend = new List<(string, Color)> { ("changes with none", Color.FromHex("#eef1f4")) };
        int steps = Math.Min(most, 6);
        var colours = new WallColours();
        for (int i = 1; i <= steps; i++)
        {
            int low = 1 + (i - 1) * most / steps;
            int high = i * most / steps;
            legend.Add(
                (
                    low == high
                        ? string.Create(CultureInfo.InvariantCulture, $"changes with {low}")
                        : string.Create(CultureInfo.InvariantCulture, $"changes with {low} to {high}"),
                    colours.GetColor(0.15 + 0.85 * i / steps)
                )
            );
        }
        CategoryMapFigure.Save(
            $"Which cells flip: {map.Name}",
            string.Create(
                CultureInfo.InvariantCulture,
                $"{report.Plan.Study.Header.Name}. How many of {report.Flips.Count} small changes of one key change a cell of the chosen procedure: another kind, echo or cycle."
            ),
            [
                new CategoryMap
                {
                    Title = "chosen procedure",
                    Scans = map.Info.Shape.Scans,
                    Beams = map.Info.Shape.Beams,
                    Categories = Array.ConvertAll(
                        map.Flips,
                        f => (byte)(f == 0 ? 0 : 1 + Math.Min(steps - 1, (f - 1) * steps / most))
                    ),
                    Legend = legend,
                    ScanPositionsMetres = map.Info.ScanPositionsMetres,
                    IndexPositionsMetres = map.Info.IndexPositionsMetres,
                },
            ],
            path
        );
    }
}
