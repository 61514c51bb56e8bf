using System.Globalization;
using EchoToThickness.Studies.Compare;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Reporting.Figures;

/// <summary>The figures of a comparison: what went wrong how often, and error beside the bound over every key that was swept.</summary>
public static class CompareFigureSet
{
    private const int MostPanels = 9;

    /// <summary>Draws all figures in the forms the study asks for.</summary>
    /// <param name="report">The report.</param>
    /// <param name="folder">Where they go.</param>
    /// <returns>Files written.</returns>
    public static int Save(CompareReport report, string folder)
    {
        ArgumentNullException.ThrowIfNull(report);
        int files = 0;
        string[] methods = [.. report.Methods.Select(m => m.Name)];
        string[] sources = [.. report.Rows.Select(r => r.Group.Source).Distinct()];
        foreach (string source in sources)
        {
            CompareRow[] rows = [.. report.Rows.Where(r => r.Group.Source == source)];
            foreach (
                (string name, string title, string subtitle, IReadOnlyList<CurvePanel> panels) in Figures(rows, report)
            )
            foreach (string form in report.Study.Report.Figures)
            {
                string file = sources.Length > 1 ? $"{name}-{source}" : name;
                CurveFigure.Save(
                    sources.Length > 1 ? $"{title}: {source}" : title,
                    subtitle,
                    panels,
                    methods,
                    Path.Combine(folder, $"{FileName(file)}.{form}")
                );
                files++;
            }
        }
        return files;
    }

    private static IEnumerable<(string Name, string Title, string Subtitle, IReadOnlyList<CurvePanel> Panels)> Figures(
        CompareRow[] rows,
        CompareReport report
    )
    {
        string[] methods = [.. report.Methods.Select(m => m.Name)];
        CompareRow[] whole = [.. rows.Where(r => r.Group.Kind == GroupKind.Source)];
        string cells = string.Create(
            CultureInfo.InvariantCulture,
            $"{report.Study.Header.Name}. {whole[0].Cells:#,0} cells"
        );
        yield return (
            "rates",
            "What went wrong, and how often",
            cells,
            [
                Overview(whole, methods, CompareFigure.Gross, "gross errors, % of cells"),
                Overview(whole, methods, CompareFigure.Missing, "missing, % of cells"),
                Overview(whole, methods, CompareFigure.RmseSound, "RMSE without gross, µm"),
            ]
        );
        CompareRow[] points = [.. rows.Where(r => r.Group.Kind == GroupKind.Point)];
        CompareRow[] margins = [.. rows.Where(r => r.Group.Kind == GroupKind.Margin)];
        if (margins.Length == 0)
            margins = points;
        foreach (string key in points.SelectMany(r => r.Group.Values.Select(v => v.Key)).Distinct())
        {
            CompareRow[] over = [.. margins.Where(r => r.Group.Values.Any(v => v.Key == key))];
            IReadOnlyList<CurvePanel> errors = ByOthers(points, key, methods);
            yield return (
                $"error-by-{key}",
                $"Error by {key}",
                cells + ". RMSE of all measured cells, gross errors included.",
                errors
            );
            var panels = new List<CurvePanel>
            {
                Panel(over, key, methods, CompareFigure.Gross, "", "gross errors, % of cells"),
                Panel(over, key, methods, CompareFigure.Missing, "", "missing, % of cells"),
            };
            if (over.Any(r => !double.IsNaN(r[CompareFigure.BoundRatio].Value)))
                panels.Add(
                    Panel(
                        over,
                        key,
                        methods,
                        CompareFigure.BoundRatioSound,
                        "without gross errors",
                        "RMSE / bound"
                    ) with
                    {
                        Logarithmic = true,
                        Levels = [1, Math.Pow(10, 3.0 / 20)],
                    }
                );
            else
                panels.Add(Panel(over, key, methods, CompareFigure.RmseSound, "without gross errors", "RMSE, µm"));
            yield return ($"rates-by-{key}", $"Rates and error by {key}", cells + ". Other keys pooled.", panels);
        }
        CompareRow[] planted = [.. rows.Where(r => r.Group.Kind == GroupKind.Planted)];
        if (planted.Length > 0)
            yield return (
                "rates-by-planted",
                "Rates and error by what was planted",
                cells + ". A cell may stand in several places.",
                [
                    Panel(planted, "", methods, CompareFigure.Gross, "", "gross errors, % of cells"),
                    Panel(planted, "", methods, CompareFigure.Missing, "", "missing, % of cells"),
                    Panel(planted, "", methods, CompareFigure.RmseSound, "without gross errors", "RMSE, µm"),
                ]
            );
        CompareRow[] bands = [.. rows.Where(r => r.Group.Kind == GroupKind.Band)];
        if (bands.Length > 0)
            yield return (
                "rates-by-wall-band",
                "Rates and error by true wall",
                cells + ". Places are the middles of the bands.",
                [
                    Panel(bands, "", methods, CompareFigure.Gross, "", "gross errors, % of cells"),
                    Panel(bands, "", methods, CompareFigure.Missing, "", "missing, % of cells"),
                    Panel(bands, "", methods, CompareFigure.RmseSound, "without gross errors", "RMSE, µm") with
                    {
                        Logarithmic = true,
                    },
                ]
            );
    }

    /// <summary>Methods side by side.</summary>
    private static CurvePanel Overview(CompareRow[] rows, string[] methods, CompareFigure figure, string label) =>
        new()
        {
            Title = "",
            XLabel = "",
            YLabel = label,
            XNames = [.. methods.Select(_ => "")], // the legend names them
            Curves =
            [
                .. rows.Select(
                    (row, i) =>
                    {
                        (double value, double low, double high) = Scaled(row[figure], figure);
                        return new Curve(i, [i], [value], [low], [high]);
                    }
                ),
            ],
        };

    /// <summary>A panel for every combination of the other keys.</summary>
    private static IReadOnlyList<CurvePanel> ByOthers(CompareRow[] points, string key, string[] methods)
    {
        var groups = points
            .Where(r => r.Group.Values.Any(v => v.Key == key))
            .GroupBy(r => string.Join(", ", r.Group.Values.Where(v => v.Key != key).Select(v => $"{v.Key} {v.Text}")))
            .ToArray();
        // Evenly spread over all combinations where there are too many to read.
        int[] chosen =
        [
            .. Enumerable
                .Range(0, Math.Min(groups.Length, MostPanels))
                .Select(i =>
                    groups.Length <= MostPanels ? i : (int)Math.Round(i * (groups.Length - 1.0) / (MostPanels - 1))
                ),
        ];
        return
        [
            .. chosen.Select(i =>
                Panel([.. groups[i]], key, methods, CompareFigure.Rmse, groups[i].Key, "RMSE, µm", withBound: true) with
                {
                    Logarithmic = true,
                }
            ),
        ];
    }

    private static CurvePanel Panel(
        CompareRow[] rows,
        string key,
        string[] methods,
        CompareFigure figure,
        string title,
        string label,
        bool withBound = false
    )
    {
        CompareGroup[] groups = [.. rows.Select(r => r.Group).Distinct()];
        (double[] x, string xLabel, string[]? names) = Axis(groups, key);
        // Methods may have bounds of their own; the lowest is the physical limit.
        double Lowest(CompareRow row) =>
            rows.Where(r => r.Group == row.Group)
                .Select(r => r.BoundMetres)
                .Where(double.IsFinite)
                .DefaultIfEmpty(double.NaN)
                .Min() * 1e6;
        Curve bound = CurveOf(rows, groups, x, 0, r => (Lowest(r), double.NaN, double.NaN), methods[0]);
        return new CurvePanel
        {
            Title = title,
            XLabel = xLabel,
            YLabel = label,
            XNames = names,
            Curves =
            [
                .. methods.Select((method, m) => CurveOf(rows, groups, x, m, r => Scaled(r[figure], figure), method)),
            ],
            Bound = withBound && bound.Y.Any(double.IsFinite) ? bound : null,
        };
    }

    private static Curve CurveOf(
        CompareRow[] rows,
        CompareGroup[] groups,
        double[] x,
        int number,
        Func<CompareRow, (double Value, double Low, double High)> values,
        string method
    )
    {
        var all = groups
            .Select((group, i) => (X: x[i], Values: values(rows.First(r => r.Group == group && r.Method == method))))
            .OrderBy(p => p.X)
            .ToArray();
        return new Curve(
            number,
            [.. all.Select(p => p.X)],
            [.. all.Select(p => p.Values.Value)],
            [.. all.Select(p => p.Values.Low)],
            [.. all.Select(p => p.Values.High)]
        );
    }

    /// <summary>Places on the horizontal axis: numbers in the unit the study wrote, else names.</summary>
    private static (double[] X, string Label, string[]? Names) Axis(CompareGroup[] groups, string key)
    {
        if (groups.All(g => g.BandMetres is not null))
            return (
                [.. groups.Select(g => (g.BandMetres!.Value.Low + g.BandMetres.Value.High) * 500)],
                "true wall, mm",
                null
            );
        if (groups.All(g => g.Planted is not null))
            return (
                [.. Enumerable.Range(0, groups.Length).Select(i => (double)i)],
                "",
                [.. groups.Select(g => g.Words.Replace("planted: ", "", StringComparison.Ordinal))]
            );
        SweepValue[] values = [.. groups.Select(g => g.Values.First(v => v.Key == key))];
        string[] units =
        [
            .. values
                .Select(v =>
                    v.Text.Contains(' ', StringComparison.Ordinal)
                        ? v.Text[(v.Text.IndexOf(' ', StringComparison.Ordinal) + 1)..]
                        : ""
                )
                .Distinct(),
        ];
        var numbers = new double[values.Length];
        bool plain = units.Length == 1;
        for (int i = 0; i < values.Length; i++)
            plain &= double.TryParse(
                values[i].Text.Split(' ')[0],
                NumberStyles.Float,
                CultureInfo.InvariantCulture,
                out numbers[i]
            );
        if (plain)
            return (numbers, units[0].Length > 0 ? $"{key}, {units[0]}" : key, null);
        if (values.All(v => double.IsFinite(v.Number)))
            return ([.. values.Select(v => v.Number)], $"{key}, SI units", null);
        return ([.. Enumerable.Range(0, values.Length).Select(i => (double)i)], key, [.. values.Select(v => v.Text)]);
    }

    private static (double Value, double Low, double High) Scaled(FigureValue value, CompareFigure figure)
    {
        double scale = CompareFigures.ScaleOf(figure);
        return (value.Value * scale, value.Interval.Low * scale, value.Interval.High * scale);
    }

    private static string FileName(string name) =>
        string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' ? c : '-'));
}
