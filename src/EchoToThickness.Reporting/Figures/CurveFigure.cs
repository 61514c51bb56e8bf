using System.Globalization;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace EchoToThickness.Reporting.Figures;

/// <summary>
/// Panels of curves with interval bars and one legend; methods differ in colour, dash and mark, and stand a little apart sideways, so that
/// equal ones do not hide each other. Panels with the same vertical axis share its range.
/// </summary>
public static class CurveFigure
{
    private const int PanelWidth = 330;
    private const int PanelHeight = 250;
    private const int GapX = 100;
    private const int GapY = 100;
    private const int LegendWidth = 290;

    private static readonly string[] Colours =
    [
        "#1565a8",
        "#c06a15",
        "#00736b",
        "#a3195b",
        "#6a3fa0",
        "#7b6a00",
        "#35506e",
        "#b03a2e",
    ];

    private static readonly MarkerShape[] Marks =
    [
        MarkerShape.FilledCircle,
        MarkerShape.FilledSquare,
        MarkerShape.FilledTriangleUp,
        MarkerShape.FilledDiamond,
        MarkerShape.FilledTriangleDown,
        MarkerShape.OpenCircle,
        MarkerShape.OpenSquare,
    ];

    /// <summary>Draws the panels.</summary>
    /// <param name="title">Heading of the figure.</param>
    /// <param name="subtitle">Line under it.</param>
    /// <param name="panels">At least one panel.</param>
    /// <param name="methods">Names, by number of the method.</param>
    /// <param name="path">File to write; <c>.png</c> or <c>.svg</c>.</param>
    /// <exception cref="ArgumentException">No panel, or another extension.</exception>
    public static void Save(
        string title,
        string subtitle,
        IReadOnlyList<CurvePanel> panels,
        IReadOnlyList<string> methods,
        string path
    )
    {
        ArgumentNullException.ThrowIfNull(panels);
        ArgumentNullException.ThrowIfNull(methods);
        if (panels.Count == 0)
            throw new ArgumentException("A figure needs a panel.", nameof(panels));
        int columns = Math.Min(3, panels.Count);
        int rows = (panels.Count + columns - 1) / columns;
        bool bound = panels.Any(p => p.Bound is not null);
        bool levels = panels.Any(p => p.Levels.Count > 0);
        int legendHeight = 24 * (methods.Count + (bound ? 1 : 0)) + 60;
        int width = columns * (PanelWidth + GapX) + LegendWidth + 20;
        string[] lines = [.. FigureSheet.Wrap(subtitle, width - 48)];
        int top = 90 + 20 * lines.Length;
        int height = Math.Max(top + rows * (PanelHeight + GapY), top + legendHeight);
        using var sheet = new FigureSheet(width, height, title);
        for (int i = 0; i < lines.Length; i++)
            sheet.Text(lines[i], 24, 60 + 20 * i, Ink.Quiet);
        for (int i = 0; i < panels.Count; i++)
        {
            int left = GapX - 10 + i % columns * (PanelWidth + GapX);
            int upper = top + i / columns * (PanelHeight + GapY);
            (double, double) range = Range(
                panels.Where(p => p.YLabel == panels[i].YLabel && p.Logarithmic == panels[i].Logarithmic)
            );
            Draw(
                sheet,
                panels[i],
                new PixelRect(left, left + PanelWidth, upper + PanelHeight, upper),
                range,
                methods.Count
            );
        }
        Legend(sheet, methods, bound, columns * (PanelWidth + GapX) + 20, top, panels.Any(HasIntervals), levels);
        sheet.Save(path);
    }

    private static bool HasIntervals(CurvePanel panel) => panel.Curves.Any(c => c.Low.Any(v => !double.IsNaN(v)));

    private static void Draw(
        FigureSheet sheet,
        CurvePanel panel,
        PixelRect data,
        (double Low, double High) range,
        int methods
    )
    {
        Plot plot = sheet.Plot(data, left: 78);
        sheet.Text(panel.Title, data.Left, data.Top - 8, Ink.Text);
        plot.XLabel(panel.XLabel);
        plot.YLabel(panel.YLabel);
        (double left, double right) = Places(panel);
        bool alone = panel.Curves.All(c => c.X.Count == 1) && panel.Curves.Select(c => c.X[0]).Distinct().Count() > 1;
        double apart =
            alone ? 0
            : panel.XNames is not null ? 0.6 / methods
            : Math.Min(0.006, 0.03 / methods) * (right - left);
        double margin = panel.XNames is not null ? 0.5 : Math.Max((right - left) * 0.06, 1e-9);
        plot.Axes.SetLimits(left - margin, right + margin, range.Low, range.High);
        var scale = new DashScale(PanelWidth / (right - left + 2 * margin), PanelHeight / (range.High - range.Low));
        foreach (double level in panel.Levels)
            plot.Add.HorizontalLine(Height(panel, level), 1, Ink.Raw);
        if (panel.Bound is { } bound)
        {
            DashedLine.Add(plot, Points(panel, bound, 0), scale, 10, 6, Ink.Limit, 2.4f);
        }
        foreach (Curve curve in panel.Curves)
        {
            Color colour = ColourOf(curve.Method);
            double aside = apart * (curve.Method - (methods - 1) / 2.0);
            for (int i = 0; i < curve.X.Count; i++)
            {
                (double low, double high) = Bar(panel, curve, i);
                if (double.IsFinite(low) && double.IsFinite(high))
                    plot.Add.Line(curve.X[i] + aside, low, curve.X[i] + aside, high).LineStyle = new LineStyle(
                        1.2f,
                        colour
                    );
            }
            Line(plot, Points(panel, curve, aside), curve.Method, scale, joined: panel.XNames is null);
        }
        Ticks(plot, panel, range);
    }

    private static double Height(CurvePanel panel, double value) => panel.Logarithmic ? Math.Log10(value) : value;

    private static (double Left, double Right) Places(CurvePanel panel)
    {
        double[] x = [.. panel.Curves.SelectMany(c => c.X)];
        return (x.DefaultIfEmpty(0).Min(), x.DefaultIfEmpty(1).Max());
    }

    /// <summary>Ends of an interval bar; one that reaches below a logarithmic axis begins at its value.</summary>
    private static (double Low, double High) Bar(CurvePanel panel, Curve curve, int i)
    {
        double low = Height(panel, curve.Low[i]);
        return (double.IsNegativeInfinity(low) ? Height(panel, curve.Y[i]) : low, Height(panel, curve.High[i]));
    }

    private static (double Low, double High) Range(IEnumerable<CurvePanel> panels)
    {
        var heights = new List<double>();
        bool logarithmic = false;
        foreach (CurvePanel panel in panels)
        {
            logarithmic = panel.Logarithmic;
            heights.AddRange(panel.Levels.Select(level => Height(panel, level)));
            foreach (Curve curve in panel.Bound is null ? panel.Curves : [.. panel.Curves, panel.Bound])
                for (int i = 0; i < curve.X.Count; i++)
                {
                    (double low, double high) = Bar(panel, curve, i);
                    heights.AddRange([Height(panel, curve.Y[i]), low, high]);
                }
        }
        double[] finite = [.. heights.Where(double.IsFinite).DefaultIfEmpty(0)];
        (double least, double most) = (finite.Min(), finite.Max());
        double room = Math.Max((most - least) * 0.06, logarithmic ? 0.05 : 1e-3 * Math.Max(Math.Abs(most), 1));
        return (least - room, most + room);
    }

    private static Coordinates[] Points(CurvePanel panel, Curve curve, double aside) =>
        [
            .. curve
                .X.Zip(curve.Y, (x, y) => new Coordinates(x + aside, Height(panel, y)))
                .Where(p => double.IsFinite(p.Y)),
        ];

    private static void Ticks(Plot plot, CurvePanel panel, (double Low, double High) range)
    {
        if (panel.Logarithmic)
            plot.Axes.Left.TickGenerator = LogarithmicTicks(range.Low, range.High);
        if (panel.XNames is not { } names)
            return;
        plot.Axes.Bottom.TickGenerator = new NumericManual(
            [.. Enumerable.Range(0, names.Count).Select(i => (double)i)],
            [.. names]
        );
        if (names.Sum(n => n.Length + 2) <= 40)
            return;
        plot.Axes.Bottom.TickLabelStyle.Rotation = -35;
        plot.Axes.Bottom.TickLabelStyle.Alignment = Alignment.MiddleRight;
        plot.Axes.Bottom.TickLabelStyle.FontSize = 10;
        plot.XLabel("");
    }

    private static NumericManual LogarithmicTicks(double low, double high)
    {
        double[] steps =
            high - low > 3 ? [1]
            : high - low > 1.2 ? [1, 3]
            : [1, 1.5, 2, 3, 5, 7];
        var ticks = new NumericManual();
        for (int decade = (int)Math.Floor(low); decade <= Math.Ceiling(high); decade++)
        {
            foreach (double step in steps)
            {
                double at = decade + Math.Log10(step);
                if (at >= low && at <= high)
                    ticks.AddMajor(at, Math.Pow(10, at).ToString("0.######", CultureInfo.InvariantCulture));
            }
        }
        return ticks;
    }

    private static void Legend(
        FigureSheet sheet,
        IReadOnlyList<string> methods,
        bool bound,
        int left,
        int top,
        bool intervals,
        bool levels
    )
    {
        int count = methods.Count + (bound ? 1 : 0);
        Plot plot = sheet.Plot(new PixelRect(left, left + 44, top + 24 * count, top), left: 4, bottom: 4);
        plot.HideAxesAndGrid();
        plot.Axes.SetLimits(0, 1, -count + 0.5, 0.5);
        for (int i = 0; i < count; i++)
        {
            Coordinates[] line = [new(0.05, -i), new(0.5, -i), new(0.95, -i)];
            if (i < methods.Count)
                Line(plot, line, i, new DashScale(44, 24), joined: true);
            else
                DashedLine.Add(plot, line, new DashScale(44, 24), 10, 6, Ink.Limit, 2.4f);
            string name = i < methods.Count ? methods[i] : "Cramér-Rao bound";
            sheet.Text(name.Length > 30 ? name[..29] + "…" : name, left + 54, top + 24 * i + 17, Ink.Text);
        }
        int y = top + 24 * count + 24;
        if (intervals)
            sheet.Text("bars: intervals", left, y, Ink.Quiet);
        if (levels)
            sheet.Text("grey lines: 1 and 3 dB above", left, y + 20, Ink.Quiet);
    }

    /// <summary>Marks, and the line through them: whole for the first methods, dashed in two ways for those whose colours come again.</summary>
    private static void Line(Plot plot, Coordinates[] points, int method, DashScale scale, bool joined)
    {
        Color colour = ColourOf(method);
        int round = method / Colours.Length;
        var scatter = plot.Add.Scatter(points, colour);
        scatter.LineWidth = joined && round == 0 ? 1.6f : 0;
        scatter.MarkerShape = Marks[method % Marks.Length];
        scatter.MarkerSize = 7;
        scatter.MarkerColor = colour;
        scatter.MarkerLineColor = colour;
        scatter.MarkerLineWidth = 1.4f;
        if (joined && round > 0)
            DashedLine.Add(plot, points, scale, round == 1 ? 7 : 3, round == 1 ? 4 : 3, colour, 1.6f);
    }

    private static Color ColourOf(int method) => Color.FromHex(Colours[method % Colours.Length]);
}
