using System.Globalization;
using EchoToThickness.Studies.Validate;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>The figures of a validation: errors over the certified wall, the curve of detection, sizing.</summary>
public static class ValidationFigureSet
{
    private const int Width = 980;
    private const int Height = 560;
    private static readonly PixelRect Data = new(90, 680, 480, 90);

    private static readonly (string Colour, MarkerShape Mark)[] Kinds =
    [
        ("#1565a8", MarkerShape.FilledCircle),
        ("#c06a15", MarkerShape.FilledSquare),
        ("#00736b", MarkerShape.FilledTriangleUp),
        ("#a3195b", MarkerShape.FilledDiamond),
        ("#6a3fa0", MarkerShape.FilledTriangleDown),
    ];

    /// <summary>Draws all figures in the forms the study asks for.</summary>
    /// <param name="statement">The statement.</param>
    /// <param name="folder">Where they go.</param>
    /// <returns>Files written.</returns>
    public static int Save(ValidationStatement statement, string folder)
    {
        ArgumentNullException.ThrowIfNull(statement);
        int files = 0;
        foreach (string form in statement.Plan.Study.Report.Figures)
        {
            if (statement.Readings.Any(r => r.ErrorsMetres.Length > 0))
                files += Errors(statement, Path.Combine(folder, "errors." + form));
            if (statement.Curve is { } curve)
                files += Detection(statement, curve, Path.Combine(folder, "detection." + form));
            if (statement.Indications.Any(i => i.Found && !double.IsNaN(i.WallMetres)))
                files += Sizing(statement, Path.Combine(folder, "sizing." + form));
        }
        return files;
    }

    private static int Errors(ValidationStatement statement, string path)
    {
        Reading[] readings = [.. statement.Readings.Where(r => r.ErrorsMetres.Length > 0)];
        double claim = statement.Plan.Study.Claim.ToleranceMetres * 1e3;
        using var sheet = new FigureSheet(
            Width,
            Height,
            "Error over certified wall",
            $"{statement.Plan.Study.Header.Name}. A mark is one feature in one scan, its bar the standard deviation of its cells."
        );
        Plot plot = sheet.Plot(Data, left: 78);
        plot.XLabel("certified wall, mm");
        plot.YLabel("measured less certified, mm");
        string[] kinds = [.. readings.Select(r => r.Kind).Distinct().Order(StringComparer.Ordinal)];
        var heights = new List<double> { claim, -claim };
        foreach (double level in new[] { -claim, 0, claim })
            plot.Add.HorizontalLine(level, level == 0 ? 1 : 1.6f, level == 0 ? Ink.Raw : Ink.Limit);
        foreach (Reading reading in readings)
        {
            int kind = Array.IndexOf(kinds, reading.Kind);
            double mean = reading.MeanErrorMetres * 1e3;
            double deviation =
                Math.Sqrt(reading.ErrorsMetres.Average(e => Math.Pow(e - reading.MeanErrorMetres, 2))) * 1e3;
            double x = reading.TruthMetres * 1e3;
            heights.AddRange([mean - deviation, mean + deviation]);
            plot.Add.Line(x, mean - deviation, x, mean + deviation).LineStyle = new LineStyle(1, ColourOf(kind));
            Mark(plot, x, mean, kind);
        }
        double[] walls = [.. readings.Select(r => r.TruthMetres * 1e3)];
        double room = 0.06 * (heights.Max() - heights.Min());
        plot.Axes.SetLimits(walls.Min() - 0.5, walls.Max() + 0.5, heights.Min() - room, heights.Max() + room);
        Legend(sheet, kinds, ["black lines: the claim"]);
        sheet.Save(path);
        return 1;
    }

    private static int Detection(ValidationStatement statement, DetectionCurve curve, string path)
    {
        string size = curve.Size == DetectionSize.Diameter ? "diameter" : "depth";
        using var sheet = new FigureSheet(
            Width,
            Height,
            "Probability of detection",
            $"{statement.Plan.Study.Header.Name}. Marks: share of looks that found a feature; band: pointwise, normal approximation."
        );
        Plot plot = sheet.Plot(Data, left: 78);
        plot.XLabel($"{size} of holes and pits, mm");
        plot.YLabel("probability of detection, %");
        double[] x = [.. curve.Band.Select(b => b.Size * 1e3)];
        if (curve.Band.All(b => b.Wald.IsKnown))
        {
            var fill = plot.Add.FillY(
                x,
                [.. curve.Band.Select(b => Math.Clamp(b.Wald.Low, 0, 1) * 100)],
                [.. curve.Band.Select(b => Math.Clamp(b.Wald.High, 0, 1) * 100)]
            );
            fill.FillColor = ColourOf(0).WithAlpha(0.18);
            fill.LineWidth = 0;
        }
        var line = plot.Add.Scatter(x, [.. curve.Band.Select(b => b.Probability * 100)], ColourOf(0));
        line.MarkerSize = 0;
        line.LineWidth = 2;
        for (int i = 0; i < curve.Sizes.Count; i++)
            Mark(plot, curve.Sizes[i] * 1e3, curve.FoundShares[i] * 100, 1);
        plot.Add.HorizontalLine(90, 1, Ink.Raw);
        plot.Axes.SetLimits(x[0], x[^1], -3, 103);
        Legend(sheet, ["curve (hits and misses)", "features"], ["grey line: 90 %"]);
        sheet.Save(path);
        return 1;
    }

    private static int Sizing(ValidationStatement statement, string path)
    {
        Indication[] found = [.. statement.Indications.Where(i => i.Found && !double.IsNaN(i.WallMetres))];
        using var sheet = new FigureSheet(
            Width,
            Height,
            "Remaining wall of holes and pits",
            string.Create(
                CultureInfo.InvariantCulture,
                $"{statement.Plan.Study.Header.Name}. {found.Length} of {statement.Indications.Count} looks found their feature; the others are not here."
            )
        );
        Plot plot = sheet.Plot(Data, left: 78);
        plot.XLabel("certified wall at the deepest point, mm");
        plot.YLabel("smallest wall read, mm");
        string[] kinds =
        [
            .. found.Select(i => i.Drawn.Kind.ToString().ToLowerInvariant()).Distinct().Order(StringComparer.Ordinal),
        ];
        double low = found.Min(i => Math.Min(i.WallMetres, i.Drawn.WallMetres)) * 1e3 - 0.4;
        double high = found.Max(i => Math.Max(i.WallMetres, i.Drawn.WallMetres)) * 1e3 + 0.4;
        double claim = statement.Plan.Study.Claim.ToleranceMetres * 1e3;
        foreach (double off in new[] { -claim, 0, claim })
            plot.Add.Line(low, low + off, high, high + off).LineStyle = new LineStyle(
                off == 0 ? 1 : 1.6f,
                off == 0 ? Ink.Raw : Ink.Limit
            );
        foreach (Indication look in found)
            Mark(
                plot,
                look.Drawn.WallMetres * 1e3,
                look.WallMetres * 1e3,
                Array.IndexOf(kinds, look.Drawn.Kind.ToString().ToLowerInvariant())
            );
        plot.Axes.SetLimits(low, high, low, high);
        Legend(sheet, kinds, ["black lines: the claim"]);
        sheet.Save(path);
        return 1;
    }

    private static void Mark(Plot plot, double x, double y, int kind)
    {
        var mark = plot.Add.Marker(x, y, Kinds[kind % Kinds.Length].Mark, 7, ColourOf(kind));
        mark.MarkerLineColor = ColourOf(kind);
    }

    private static void Legend(FigureSheet sheet, string[] names, string[] notes)
    {
        const float Left = 715;
        Plot plot = sheet.Plot(new PixelRect(Left, Left + 30, 90 + 24 * names.Length, 90), left: 4, bottom: 4);
        plot.HideAxesAndGrid();
        plot.Axes.SetLimits(0, 1, -names.Length + 0.5, 0.5);
        for (int i = 0; i < names.Length; i++)
        {
            Mark(plot, 0.5, -i, i);
            sheet.Text(names[i], Left + 40, 90 + 24 * i + 17, Ink.Text);
        }
        for (int i = 0; i < notes.Length; i++)
            sheet.Text(notes[i], Left, 90 + 24 * (names.Length + i) + 30, Ink.Quiet);
    }

    private static Color ColourOf(int kind) => Color.FromHex(Kinds[kind % Kinds.Length].Colour);
}
