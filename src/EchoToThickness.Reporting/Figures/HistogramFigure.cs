using System.Globalization;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>How many cells have which thickness, with the cells that were left out named beside it.</summary>
public static class HistogramFigure
{
    /// <summary>Draws the histogram.</summary>
    /// <param name="image">What to draw.</param>
    /// <param name="path">File to write; <c>.png</c> or <c>.svg</c>.</param>
    /// <exception cref="ArgumentException">Another extension.</exception>
    public static void Save(MapImage image, string path)
    {
        ArgumentNullException.ThrowIfNull(image);
        double[] walls = image.ValuesMetres.Where(v => !float.IsNaN(v)).Select(v => v * 1e3).Order().ToArray();
        using var sheet = new FigureSheet(1000, 560, image.Title, image.Subtitle);
        var data = new PixelRect(110, 700, 480, 90);
        Plot plot = sheet.Plot(data);
        plot.XLabel("wall thickness, mm");
        plot.YLabel("cells");
        if (walls.Length > 0)
        {
            double width = BinWidth(walls);
            double start = Math.Floor(walls[0] / width) * width;
            var counts = new int[(int)Math.Floor((walls[^1] - start) / width) + 1];
            foreach (double wall in walls)
                counts[Math.Min((int)((wall - start) / width), counts.Length - 1)]++;
            plot.Add.Bars(
                counts
                    .Select(
                        (count, bin) =>
                            new Bar
                            {
                                Position = start + (bin + 0.5) * width,
                                Value = count,
                                Size = width,
                                FillColor = new WallColours().GetColor(0.72),
                                LineColor = Ink.Paper,
                                LineWidth = 0.5f,
                            }
                    )
                    .ToArray()
            );
            plot.Axes.SetLimits(start - width, start + (counts.Length + 1) * width, 0, counts.Max() * 1.06);
            if (image.LimitMetres is { } limit)
                plot.Add.VerticalLine(limit * 1e3, 2.5f, Ink.Limit);
            Facts(sheet, image, walls, width);
        }
        else
        {
            plot.Axes.SetLimits(0, 10, 0, 1);
            sheet.Text("No cell has a thickness.", 740, 120, Ink.Text, bold: true);
        }
        sheet.Save(path);
    }

    private static void Facts(FigureSheet sheet, MapImage image, double[] walls, double width)
    {
        CultureInfo culture = CultureInfo.InvariantCulture;
        var lines = new List<string>
        {
            string.Create(culture, $"{walls.Length:#,0} cells with a thickness"),
            string.Create(culture, $"{image.ValuesMetres.Length - walls.Length:#,0} cells without"),
            "",
            string.Create(culture, $"smallest  {walls[0]:F3} mm"),
            string.Create(culture, $"median  {Median(walls):F3} mm"),
            string.Create(culture, $"largest  {walls[^1]:F3} mm"),
            "",
            string.Create(culture, $"bars {width:0.###} mm wide"),
        };
        if (image.LimitMetres is { } limit)
        {
            lines.Add("");
            lines.Add(string.Create(culture, $"line: limit {limit * 1e3:0.###} mm"));
            lines.Add(string.Create(culture, $"{walls.Count(w => w < limit * 1e3):#,0} cells below it"));
        }
        for (int i = 0; i < lines.Count; i++)
            sheet.Text(lines[i], 740, 120 + 24 * i, Ink.Text, bold: i == 0);
    }

    private static double Median(double[] sorted) =>
        0.5 * (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]);

    /// <summary>The rule of Freedman and Diaconis (1981), rounded up to a round number; at most 200 bars.</summary>
    private static double BinWidth(double[] sorted)
    {
        double spread = sorted[sorted.Length * 3 / 4] - sorted[sorted.Length / 4];
        double range = Math.Max(sorted[^1] - sorted[0], 1e-3);
        double rule = 2 * spread / Math.Cbrt(sorted.Length);
        return ColourBar.NiceStep(Math.Max(rule, range / 200));
    }
}
