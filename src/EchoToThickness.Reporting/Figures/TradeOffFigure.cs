using EchoToThickness.Studies.Tune;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Every rule set by two objectives at a time, the Pareto front of the pair joined.</summary>
internal static class TradeOffFigure
{
    private const int PanelWidth = 340;
    private const int PanelHeight = 280;
    private const int GapX = 110;
    private const int GapY = 110;
    private const int MostPanels = 6;

    /// <summary>Draws the figure; needs two objectives.</summary>
    /// <param name="report">What the search found.</param>
    /// <param name="path">.png or .svg.</param>
    public static void Save(TuneReport report, string path)
    {
        int objectives = report.Plan.Objectives.Count;
        (int X, int Y)[] pairs =
        [
            .. (
                from i in Enumerable.Range(0, objectives)
                from j in Enumerable.Range(i + 1, objectives - i - 1)
                select (i, j)
            ).Take(MostPanels),
        ];
        int columns = Math.Min(3, pairs.Length);
        int rows = (pairs.Length + columns - 1) / columns;
        const int top = 130;
        using var sheet = new FigureSheet(
            Math.Max(760, columns * (PanelWidth + GapX) + 250),
            top + rows * (PanelHeight + GapY),
            report.KnowsTruth ? "What is traded for what" : "What is traded for what: self-consistency, not accuracy",
            $"{report.Plan.Study.Header.Name}. {report.Ranked.Count} rule sets; lower and further left is better."
        );
        for (int i = 0; i < pairs.Length; i++)
        {
            int left = GapX - 10 + i % columns * (PanelWidth + GapX);
            int upper = top + i / columns * (PanelHeight + GapY);
            Draw(sheet, report, pairs[i], new PixelRect(left, left + PanelWidth, upper + PanelHeight, upper));
        }
        Legend(sheet, columns * (PanelWidth + GapX) + 30, top);
        sheet.Save(path);
    }

    private static void Draw(FigureSheet sheet, TuneReport report, (int X, int Y) pair, PixelRect data)
    {
        Objective across = report.Plan.Objectives[pair.X];
        Objective up = report.Plan.Objectives[pair.Y];
        Plot plot = sheet.Plot(data, left: 78);
        Coordinates At(RuleSetResult r) =>
            new(r.Value[pair.X] * TuneFigures.ScaleOf(across.Figure), r.Value[pair.Y] * TuneFigures.ScaleOf(up.Figure));
        bool Finite(RuleSetResult r) => double.IsFinite(r.Value[pair.X]) && double.IsFinite(r.Value[pair.Y]);
        RuleSetResult[] drawn = [.. report.Ranked.Where(Finite)];
        if (drawn.Length == 0)
            return;
        // The far corner of bad rule sets would squeeze the good ones: up to the third quartile, with base and chosen always inside.
        (double low, double high) x = Range([.. drawn.Select(r => At(r).X)], At(report.Winner).X, At(report.Base).X);
        (double low, double high) y = Range([.. drawn.Select(r => At(r).Y)], At(report.Winner).Y, At(report.Base).Y);
        plot.Axes.SetLimits(x.low, x.high, y.low, y.high);
        bool Inside(Coordinates c) => c.X <= x.high && c.Y <= y.high;
        Marks(plot, [.. drawn.Select(At).Where(Inside)], MarkerShape.FilledCircle, 5, Ink.Raw);
        Coordinates[] front = Front([.. drawn.Select(At)]);
        for (int i = 1; i < front.Length; i++)
        {
            ScottPlot.Plottables.LinePlot flat = plot.Add.Line(
                front[i - 1].X,
                front[i - 1].Y,
                front[i].X,
                front[i - 1].Y
            );
            ScottPlot.Plottables.LinePlot down = plot.Add.Line(front[i].X, front[i - 1].Y, front[i].X, front[i].Y);
            flat.LineColor = down.LineColor = Ink.Interface;
        }
        Marks(plot, [.. front.Where(Inside)], MarkerShape.FilledCircle, 7, Ink.Interface);
        if (Finite(report.Base))
            Marks(plot, [At(report.Base)], MarkerShape.FilledSquare, 10, Ink.Envelope);
        Marks(plot, [At(report.Winner)], MarkerShape.FilledDiamond, 13, Ink.Pair);
        plot.XLabel(Label(across.Figure));
        plot.YLabel(Label(up.Figure));
        int outside = drawn.Count(r => !Inside(At(r)));
        if (outside > 0)
            sheet.Text(
                $"{outside} further out",
                data.Right - 8,
                data.Top + 16,
                Ink.Quiet,
                align: SkiaSharp.SKTextAlign.Right
            );
    }

    private static void Marks(Plot plot, Coordinates[] points, MarkerShape shape, float size, Color colour)
    {
        if (points.Length > 0)
            plot.Add.Markers(points, shape, size, colour);
    }

    /// <summary>The front of two objectives, from left to right.</summary>
    private static Coordinates[] Front(Coordinates[] points)
    {
        var front = new List<Coordinates>();
        double least = double.PositiveInfinity;
        foreach (Coordinates point in points.OrderBy(p => p.X).ThenBy(p => p.Y))
        {
            if (point.Y >= least)
                continue;
            front.Add(point);
            least = point.Y;
        }
        return [.. front];
    }

    private static (double Low, double High) Range(double[] values, double chosen, double @base)
    {
        double[] sorted = [.. values.Order()];
        double high = new[] { sorted[sorted.Length * 3 / 4], chosen, double.IsFinite(@base) ? @base : chosen }.Max();
        double low = sorted[0];
        double room = Math.Max(0.07 * (high - low), 1e-9 + 1e-3 * Math.Abs(high));
        return (low - room, high + room);
    }

    private static void Legend(FigureSheet sheet, float x, float y)
    {
        foreach (
            (string word, Color colour) in new[]
            {
                ("rule set", Ink.Raw),
                ("front of the pair", Ink.Interface),
                ("base procedure", Ink.Envelope),
                ("chosen", Ink.Pair),
            }
        )
        {
            sheet.Disc(x, y - 5, 6, colour);
            sheet.Text(word, x + 16, y, Ink.Text);
            y += 24;
        }
    }

    private static string Label(TuneFigure figure) =>
        TuneFigures.UnitOf(figure) switch
        {
            "%" => $"{TuneFigures.WordOf(figure)}, %",
            "um" => $"{TuneFigures.WordOf(figure)}, µm",
            _ => TuneFigures.WordOf(figure),
        };
}
