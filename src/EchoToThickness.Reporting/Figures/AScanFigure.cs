using System.Globalization;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>
/// One cell explained in one picture, three panels over one time axis: the whole A-scan with the interface decision; the echoes behind it,
/// enlarged, with gates at their levels, numbered candidates and the pair that gave the wall; and the B-scan of the neighbouring beams
/// with their picks.
/// </summary>
public static class AScanFigure
{
    private const float Left = 100;
    private const float Width = 760;
    private const float Aside = Left + Width + 40;
    private const float AsideWidth = 330;
    private const int MostEchoesListed = 12;
    private const double FaintestDecibels = -54;
    private const double StrongestDecibels = -6;

    /// <summary>Draws the picture.</summary>
    /// <param name="trace">The decisions to show.</param>
    /// <param name="neighbours">A-scans of the same scan position, the explained one among them, in order of beam; may be empty.</param>
    /// <param name="path">File to write; <c>.png</c> or <c>.svg</c>.</param>
    /// <exception cref="ArgumentException">Another extension.</exception>
    public static void Save(MeasurementTrace trace, IReadOnlyList<NeighbourAScan> neighbours, string path)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(neighbours);
        int height = neighbours.Count > 1 ? 1010 : 730;
        using var sheet = new FigureSheet((int)(Aside + AsideWidth + 20), height, Title(trace), Verdict(trace.Result));
        var whole = new PixelRect(Left, Left + Width, 250, 90);
        var echoes = new PixelRect(Left, Left + Width, 660, 300);
        DrawWhole(sheet, trace, whole);
        DrawEchoes(sheet, trace, echoes, last: neighbours.Count < 2);
        if (neighbours.Count > 1)
            DrawNeighbours(sheet, trace, neighbours, new PixelRect(Left, Left + Width, 940, 700));
        DrawAside(sheet, trace, neighbours.Count > 1);
        sheet.Save(path);
    }

    private static string Title(MeasurementTrace trace) => $"A-scan at scan position {trace.Scan}, beam {trace.Beam}";

    private static string Verdict(in CellResult result)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        string verdict = Ink.Words(result.Status);
        if (!double.IsNaN(result.ThicknessMetres))
        {
            verdict += string.Create(culture, $": wall {result.ThicknessMetres * 1e3:F3} mm");
            if (!double.IsNaN(result.UncertaintyMetres))
                verdict += string.Create(culture, $", standard uncertainty {result.UncertaintyMetres * 1e6:F0} µm");
        }
        if (!double.IsNaN(result.ReflectorDepthMetres))
            verdict += string.Create(culture, $"; reflector at {result.ReflectorDepthMetres * 1e3:F2} mm");
        return verdict;
    }

    private static void DrawWhole(FigureSheet sheet, MeasurementTrace trace, PixelRect place)
    {
        Plot plot = sheet.Plot(place, Left - 10, 30);
        double top = 1.15 * Math.Max(Peak(trace.Raw, 0), Peak(trace.Signal, 0)) * 100;
        top = top > 0 ? top : 100;
        AddSignals(plot, trace);
        InterfaceTrace found = trace.Interface;
        if (!double.IsNaN(found.LevelFraction))
        {
            double start = double.IsNaN(found.SearchStartSeconds) ? trace.StartSeconds : found.SearchStartSeconds;
            double end = double.IsNaN(found.SearchEndSeconds) ? End(trace) : found.SearchEndSeconds;
            Bar(plot, start, end, found.LevelFraction, Ink.Interface, 2.5f);
        }
        if (!double.IsNaN(found.Seconds))
        {
            plot.Add.VerticalLine(found.Seconds * 1e6, 1.5f, Ink.Interface);
        }
        Limits(plot, trace, -top, top);
        Rotated(sheet, "% of full scale", place);
    }

    private static void DrawEchoes(FigureSheet sheet, MeasurementTrace trace, PixelRect place, bool last)
    {
        Plot plot = sheet.Plot(place, Left - 10, last ? 62 : 30);
        double behind = double.IsNaN(trace.Interface.Seconds) ? trace.StartSeconds : trace.Interface.Seconds;
        double top = trace
            .Echoes.Where(e => e.Role != "interface")
            .Select(e => e.AmplitudeFraction)
            .Concat(trace.Gates.Select(g => g.LevelFraction))
            .Where(a => !double.IsNaN(a))
            .DefaultIfEmpty(0)
            .Max();
        if (!(top > 0))
            top = Peak(trace.Signal, (int)((behind + 0.4e-6 - trace.StartSeconds) * trace.SampleRateHz));
        top = top > 0 ? top * 100 : 100;
        AddSignals(plot, trace);
        for (int i = 0; i < trace.Gates.Count; i++)
        {
            GateTrace gate = trace.Gates[i];
            Bar(plot, gate.StartSeconds, gate.EndSeconds, gate.LevelFraction, Ink.Gate(i), 4);
            if (!double.IsNaN(gate.EchoSeconds))
                plot.Add.Marker(
                    gate.EchoSeconds * 1e6,
                    gate.EchoAmplitudeFraction * 100,
                    MarkerShape.OpenDiamond,
                    12,
                    Ink.Gate(i)
                );
        }
        foreach ((EchoTrace echo, int number) in Numbered(trace))
        {
            double height = Math.Min(Math.Abs(echo.AmplitudeFraction) * 100, 1.2 * top);
            Color colour = echo.Paired ? Ink.Pair : Ink.Quiet;
            plot.Add.Marker(echo.Seconds * 1e6, height, MarkerShape.FilledCircle, echo.Paired ? 9 : 6, colour);
            ScottPlot.Plottables.Text text = plot.Add.Text(
                number.ToString(CultureInfo.InvariantCulture),
                echo.Seconds * 1e6,
                height + 0.05 * top
            );
            text.LabelFontName = FigureFonts.Family;
            text.LabelFontSize = FigureSheet.TextSize;
            text.LabelBold = echo.Paired;
            text.LabelFontColor = colour;
            text.LabelAlignment = Alignment.LowerCenter;
        }
        MarkPair(plot, trace.Result, -1.3 * top, -1.6 * top);
        Limits(plot, trace, -1.75 * top, 1.5 * top);
        if (last)
            plot.XLabel("time from the pulse, µs");
        Rotated(sheet, "% of full scale, enlarged", place);
    }

    private static void MarkPair(Plot plot, in CellResult result, double height, double lower)
    {
        if (double.IsNaN(result.ThicknessMetres))
            return;
        // Order 0 is the interface; a pair that starts there is drawn from the interface to the first echo.
        bool fromInterface = (result.PairedOrders & 0xF) == 0;
        double from = fromInterface ? result.InterfaceSeconds : result.FirstEchoSeconds;
        double to = fromInterface ? result.FirstEchoSeconds : result.SecondEchoSeconds;
        if (double.IsNaN(from) || double.IsNaN(to))
            return;
        plot.Add.VerticalLine(from * 1e6, 1, Ink.Pair);
        plot.Add.VerticalLine(to * 1e6, 1, Ink.Pair);
        Span(result.ThicknessMetres, to, height, Ink.Pair, "");
        if (!double.IsNaN(result.RunnerUpThicknessMetres))
            Span(
                result.RunnerUpThicknessMetres,
                from + (to - from) * result.RunnerUpThicknessMetres / result.ThicknessMetres,
                lower,
                Ink.RunnerUp,
                "runner-up "
            );

        void Span(double thicknessMetres, double end, double level, Color colour, string before)
        {
            ScottPlot.Plottables.LinePlot span = plot.Add.Line(from * 1e6, level, end * 1e6, level);
            span.LineColor = colour;
            span.LineWidth = 2;
            span.MarkerShape = MarkerShape.FilledCircle;
            span.MarkerSize = 6;
            span.MarkerFillColor = colour;
            ScottPlot.Plottables.Text text = plot.Add.Text(
                string.Create(CultureInfo.InvariantCulture, $"{before}{thicknessMetres * 1e3:F3} mm"),
                0.5 * (from + end) * 1e6,
                level
            );
            text.LabelFontName = FigureFonts.Family;
            text.LabelFontSize = FigureSheet.TextSize + 1;
            text.LabelBold = before.Length == 0;
            text.LabelFontColor = colour;
            text.LabelAlignment = Alignment.LowerCenter;
        }
    }

    private static void DrawNeighbours(
        FigureSheet sheet,
        MeasurementTrace trace,
        IReadOnlyList<NeighbourAScan> neighbours,
        PixelRect place
    )
    {
        Plot plot = sheet.Plot(place, Left - 10, 62);
        int samples = trace.Raw.Length;
        double half = 0.5 / trace.SampleRateHz;
        Picture cells = Picture.Paint(
            samples,
            neighbours.Count,
            new CoordinateRect(
                (trace.StartSeconds - half) * 1e6,
                (End(trace) - half) * 1e6,
                neighbours[0].Beam - 0.5,
                neighbours[^1].Beam + 0.5
            ),
            place.Width,
            place.Height,
            Shade
        );
        sheet.Add(plot, cells);
        Picks(n => n.InterfaceSeconds, Ink.Interface, MarkerShape.VerticalBar);
        Picks(n => n.FirstEchoSeconds, Ink.Pair, MarkerShape.FilledDiamond);
        Picks(n => n.SecondEchoSeconds, Ink.Pair, MarkerShape.OpenDiamond);
        foreach (double edge in new[] { trace.Beam - 0.5, trace.Beam + 0.5 })
            plot.Add.HorizontalLine(edge, 1.2f, Ink.Envelope);
        plot.Axes.SetLimits(
            trace.StartSeconds * 1e6,
            End(trace) * 1e6,
            neighbours[0].Beam - 0.5,
            neighbours[^1].Beam + 0.5
        );
        plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic { IntegerTicksOnly = true };
        plot.Grid.IsVisible = false;
        plot.XLabel("time from the pulse, µs");
        Rotated(sheet, "beam", place);

        // The strongest of the samples that share a dot, on a scale of decibels from paper to ink.
        Color Shade(int sample, int count, int row, int rows)
        {
            // The picture's row 0 is its top; beams count upward.
            float[] signal = neighbours[neighbours.Count - 1 - row].Signal;
            if (signal.Length == 0)
                return Ink.Rule;
            double peak = 1e-9;
            for (int i = sample; i < Math.Min(sample + count, signal.Length); i++)
                peak = Math.Max(peak, Math.Abs(signal[i]));
            double position = (20 * Math.Log10(peak) - FaintestDecibels) / (StrongestDecibels - FaintestDecibels);
            byte grey = (byte)Math.Round(255 - 235 * Math.Clamp(position, 0, 1));
            return new Color(grey, grey, grey);
        }

        void Picks(Func<NeighbourAScan, double> time, Color colour, MarkerShape shape)
        {
            Coordinates[] points = neighbours
                .Where(n => !double.IsNaN(time(n)))
                .Select(n => new Coordinates(time(n) * 1e6, n.Beam))
                .ToArray();
            if (points.Length > 0)
                plot.Add.Markers(points, shape, 8, colour);
        }
    }

    private static void DrawAside(FigureSheet sheet, MeasurementTrace trace, bool neighbours)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        float y = 104;
        Line(
            trace.Envelope.Length > 0 ? "signal, envelope and stored samples" : "signal and stored samples",
            bold: true
        );
        Key("signal that is looked at", Ink.Text);
        if (trace.Envelope.Length > 0)
            Key("its envelope", Ink.Envelope);
        Key("stored samples", Ink.Raw);
        if (!double.IsNaN(trace.Interface.LevelFraction))
            Key("interface: search and level", Ink.Interface);
        y = Math.Max(y + 8, 314);
        Line("gates and candidate echoes", bold: true);
        for (int i = 0; i < trace.Gates.Count; i++)
            Key($"gate {trace.Gates[i].Name}", Ink.Gate(i), 4);
        int listed = 0;
        foreach ((EchoTrace echo, int number) in Numbered(trace))
        {
            if (listed++ == MostEchoesListed || y > 600)
            {
                Line($"and {trace.Echoes.Count - number + 1} more");
                break;
            }
            string role = string.Create(culture, $"{number}  {echo.Role}, {echo.SignalToNoiseDecibels:F0} dB");
            foreach (string part in FigureSheet.Wrap(role, AsideWidth))
                Line(part, echo.Paired, echo.Paired ? Ink.Pair : Ink.Text);
        }
        CellResult result = trace.Result;
        if (!double.IsNaN(result.RunnerUpThicknessMetres) && y < 640)
        {
            y += 6;
            Line(
                string.Create(
                    culture,
                    $"runner-up {result.RunnerUpThicknessMetres * 1e3:F3} mm, margin {result.Margin:F2}"
                ),
                false,
                Ink.RunnerUp
            );
        }
        if (!neighbours)
            return;
        y = Math.Max(y + 8, 714);
        Line("neighbouring beams, picks", bold: true);
        Mark("interface echo", Ink.Interface);
        Mark("first back-wall echo (filled)", Ink.Pair);
        Mark("second back-wall echo (open)", Ink.Pair);
        Mark("this beam (between the lines)", Ink.Envelope);
        Line("grey: amplitude, -54 to -6 dB of full scale");

        void Line(string text, bool bold = false, Color? colour = null)
        {
            sheet.Text(text, Aside, y, colour ?? Ink.Text, bold: bold);
            y += 22;
        }

        void Key(string text, Color colour, float width = 2.5f)
        {
            sheet.Lines([(Aside, y - 5, Aside + 26, y - 5)], colour, width);
            sheet.Text(text, Aside + 36, y, Ink.Text);
            y += 22;
        }

        void Mark(string text, Color colour)
        {
            sheet.Disc(Aside + 6, y - 5, 5, colour);
            sheet.Text(text, Aside + 20, y, Ink.Text);
            y += 22;
        }
    }

    private static void AddSignals(Plot plot, MeasurementTrace trace)
    {
        Add(trace.Raw, Ink.Raw, 1);
        Add(trace.Signal, Ink.Text, 1.2f);
        Add(trace.Envelope, Ink.Envelope, 1.2f);

        void Add(float[] samples, Color colour, float width)
        {
            if (samples.Length == 0)
                return;
            ScottPlot.Plottables.Signal line = plot.Add.Signal(
                samples.Select(s => s * 100.0).ToArray(),
                1e6 / trace.SampleRateHz,
                colour
            );
            line.Data.XOffset = trace.StartSeconds * 1e6;
            line.LineWidth = width;
            line.MaximumMarkerSize = 0;
        }
    }

    private static void Bar(
        Plot plot,
        double startSeconds,
        double endSeconds,
        double fraction,
        Color colour,
        float width
    )
    {
        if (double.IsNaN(startSeconds) || double.IsNaN(endSeconds) || double.IsNaN(fraction))
            return;
        ScottPlot.Plottables.LinePlot bar = plot.Add.Line(
            startSeconds * 1e6,
            fraction * 100,
            endSeconds * 1e6,
            fraction * 100
        );
        bar.LineColor = colour;
        bar.LineWidth = width;
    }

    private static void Limits(Plot plot, MeasurementTrace trace, double low, double high) =>
        plot.Axes.SetLimits(trace.StartSeconds * 1e6, End(trace) * 1e6, low, high);

    private static void Rotated(FigureSheet sheet, string label, PixelRect place) =>
        sheet.Text(
            label,
            26,
            0.5f * (place.Top + place.Bottom),
            Ink.Text,
            FigureSheet.TextSize + 1,
            align: SkiaSharp.SKTextAlign.Center,
            turn: -90
        );

    private static IEnumerable<(EchoTrace Echo, int Number)> Numbered(MeasurementTrace trace) =>
        trace.Echoes.Select((echo, i) => (echo, i + 1));

    private static double End(MeasurementTrace trace) => trace.StartSeconds + trace.Raw.Length / trace.SampleRateHz;

    private static double Peak(float[] samples, int first)
    {
        double peak = 0;
        for (int i = Math.Max(first, 0); i < samples.Length; i++)
            peak = Math.Max(peak, Math.Abs(samples[i]));
        return peak;
    }
}
