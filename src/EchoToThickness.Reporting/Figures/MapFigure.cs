using System.Globalization;
using EchoToThickness.Pairing;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>
/// The map of a grid: thickness (or its uncertainty) in colour, cells that were not simply measured in a colour of their own with an entry
/// in the legend, axes in millimetres. Drawn to scale unless the map is very long. Nothing is smoothed or filled; where a dot must stand for several
/// cells it shows the smallest, and the figure says so.
/// </summary>
public static class MapFigure
{
    private const float LegendWidth = 300;
    private const string WallLabel = "wall thickness, mm";

    /// <summary>Draws a thickness map.</summary>
    /// <param name="image">What to draw.</param>
    /// <param name="path">File to write; <c>.png</c> or <c>.svg</c>.</param>
    /// <exception cref="ArgumentException">Another extension, or arrays that do not fit the extent.</exception>
    public static void Save(MapImage image, string path) => Save(image, path, WallLabel, 1e3, new WallColours());

    /// <summary>Draws a thickness map into a stream.</summary>
    internal static void Write(MapImage image, Stream stream, string ending)
    {
        using FigureSheet sheet = Draw(image, WallLabel, 1e3, new WallColours());
        sheet.Write(stream, ending);
    }

    /// <summary>Draws a map of the combined standard uncertainty (k = 1).</summary>
    /// <param name="image">What to draw; values are uncertainties in metres.</param>
    /// <param name="path">File to write; <c>.png</c> or <c>.svg</c>.</param>
    /// <exception cref="ArgumentException">Another extension, or arrays that do not fit the extent.</exception>
    public static void SaveUncertainty(MapImage image, string path) =>
        Save(image, path, "standard uncertainty, µm", 1e6, new ReversedColours(new WallColours()));

    private static void Save(MapImage image, string path, string label, double unitsPerMetre, IColormap colours)
    {
        using FigureSheet sheet = Draw(image, label, unitsPerMetre, colours);
        sheet.Save(path);
    }

    private static FigureSheet Draw(MapImage image, string label, double unitsPerMetre, IColormap colours)
    {
        ArgumentNullException.ThrowIfNull(image);
        long count = (long)image.Scans * image.Beams;
        if (image.ValuesMetres.Length != count || image.Status.Length != count)
            throw new ArgumentException(
                $"{image.ValuesMetres.Length} values and {image.Status.Length} statuses do not fill {image.Scans} x {image.Beams} cells.",
                nameof(image)
            );
        Axis scan = Axis.Of(image.ScanPositionsMetres, image.Scans, image.ScanName);
        Axis index = Axis.Of(image.IndexPositionsMetres, image.Beams, image.IndexName);
        (float width, float height, bool toScale) = DataSize(scan, index);
        // Whole units: between two plots on one sheet an edge at a fraction would show as a line.
        (width, height) = (MathF.Round(width), MathF.Round(height));

        var remarks = new List<string>();
        if (image.Subtitle.Length > 0)
            remarks.Add(image.Subtitle);
        if (!toScale)
            remarks.Add("axes not to the same scale");
        if (image.Scans > 2 * width || image.Beams > 2 * height)
            remarks.Add("each dot shows the smallest value of its cells");
        string subtitle = string.Join("; ", remarks);
        // Words on the axis need more room than numbers.
        float labels = Math.Max(90, 50 + 8.4f * image.IndexMarks.Select(m => m.Word.Length).DefaultIfEmpty(0).Max());
        labels = MathF.Ceiling(labels);
        float left = labels + 20;
        int sheetWidth = (int)(left + width + 60 + LegendWidth);
        int sheetHeight = (int)(90 + Math.Max(height, 330) + 80);
        IReadOnlyList<string> caption =
            image.Caption.Length > 0 ? FigureSheet.Wrap(image.Caption, sheetWidth - 48) : [];
        var sheet = new FigureSheet(sheetWidth, sheetHeight + 20 * caption.Count, image.Title, subtitle)
        {
            Notes = image.Notes,
        };
        for (int k = 0; k < caption.Count; k++)
            sheet.Text(caption[k], 24, sheetHeight + 4 + 20 * k, Ink.Quiet);
        var data = new PixelRect(left, left + width, 90 + height, 90);
        Plot plot = sheet.Plot(data, labels);
        (double low, double high) = Scale(image, unitsPerMetre);
        Picture cells = Cells(image, unitsPerMetre, colours, low, high, scan, index, data);
        sheet.Add(plot, cells);
        plot.Axes.SetLimits(scan.Low, scan.High, index.Low, index.High);
        if (!scan.Positioned)
            plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic { IntegerTicksOnly = true };
        if (!index.Positioned)
            plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic { IntegerTicksOnly = true };
        if (image.IndexMarks.Count > 0)
            plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericManual(
                [.. image.IndexMarks.Select(m => m.Metres * 1e3)],
                [.. image.IndexMarks.Select(m => m.Word)]
            );
        plot.XLabel(scan.Label);
        plot.YLabel(index.Label);
        plot.Grid.IsVisible = false;
        if (image.Regions is not null)
            Regions(sheet, image, data, scan, index);
        else if (image.LimitMetres is { } limit)
            sheet.Lines(Boundary(image, limit, data, scan, index), Ink.Limit, 2);
        Legend(sheet, image, data, label, unitsPerMetre, colours, low, high);
        return sheet;
    }

    private static (float Width, float Height, bool ToScale) DataSize(Axis scan, Axis index)
    {
        const float widest = 900;
        const float tallest = 560;
        double aspect = (scan.High - scan.Low) / (index.High - index.Low);
        bool sameUnit = scan.Positioned == index.Positioned;
        if (!sameUnit || aspect > 6 || aspect < 1.0 / 4)
            return (aspect > 1 ? widest : 420, aspect > 1 ? 260 : tallest, false);
        return aspect > widest / tallest
            ? (widest, (float)(widest / aspect), true)
            : ((float)(tallest * aspect), tallest, true);
    }

    private static (double Low, double High) Scale(MapImage image, double unitsPerMetre)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (float value in image.ValuesMetres)
        {
            if (float.IsNaN(value))
                continue;
            low = Math.Min(low, value);
            high = Math.Max(high, value);
        }
        low = (image.ScaleMinimumMetres ?? (double.IsFinite(low) ? low : 0)) * unitsPerMetre;
        high = (image.ScaleMaximumMetres ?? (double.IsFinite(high) ? high : 0)) * unitsPerMetre;
        // A map of one value still needs a scale with two ends.
        return high - low > 1e-6 * Math.Max(1, Math.Abs(high)) ? (low, high) : (low - 0.5, low + 0.5);
    }

    private static Picture Cells(
        MapImage image,
        double unitsPerMetre,
        IColormap colours,
        double low,
        double high,
        Axis scan,
        Axis index,
        PixelRect data
    )
    {
        return Picture.Paint(
            image.Scans,
            image.Beams,
            new CoordinateRect(scan.Low, scan.High, index.Low, index.High),
            data.Width,
            data.Height,
            Colour
        );

        // Where a dot holds several cells it shows the smallest value; only where none of them is measured, a status.
        Color Colour(int column, int columns, int row, int rows)
        {
            float smallest = float.PositiveInfinity;
            byte status = 0;
            for (int c = column; c < column + columns; c++)
            {
                int s = scan.Descending ? image.Scans - 1 - c : c;
                for (int r = row; r < row + rows; r++)
                {
                    // Row 0 of a picture is its top; the index axis grows upward.
                    int b = index.Descending ? r : image.Beams - 1 - r;
                    int cell = s * image.Beams + b;
                    float value = image.ValuesMetres[cell];
                    if (image.Status[cell] == (byte)CellStatus.Measured && !float.IsNaN(value))
                        smallest = Math.Min(smallest, value);
                    else
                        status = image.Status[cell];
                }
            }
            return float.IsFinite(smallest)
                ? colours.GetColor((smallest * unitsPerMetre - low) / (high - low))
                : Ink.Status((CellStatus)status);
        }
    }

    private static void Regions(FigureSheet sheet, MapImage image, PixelRect data, Axis scan, Axis index)
    {
        // White beside black, so that the line stands on light and on dark cells.
        List<(float, float, float, float)> lines = Boundary(image, double.NaN, data, scan, index);
        sheet.Lines(lines, Ink.Paper, 4);
        sheet.Lines(lines, Ink.Limit, 1.8f);
        var taken = new List<(float X, float Y, float Width)>();
        foreach ((int s, int b, string word) in image.RegionWords)
        {
            const float height = 18;
            float width = 9 * word.Length + 5;
            float x = data.Left + (scan.Descending ? image.Scans - s : s + 1) * data.Width / image.Scans + 3;
            float y = data.Top + (index.Descending ? b : image.Beams - 1 - b) * data.Height / image.Beams;
            x = Math.Min(x, data.Right - width - 1);
            y = Math.Clamp(y, data.Top + 17, data.Bottom - 2);
            // A number that would cover another one moves up or down by its own height.
            float free = ((float[])[0, 1, -1, 2, -2, 3, -3])
                .Select(step => y + step * height)
                .Where(v => v >= data.Top + 17 && v <= data.Bottom - 2)
                .FirstOrDefault(
                    v => taken.TrueForAll(t => Math.Abs(t.Y - v) >= height || t.X + t.Width < x || x + width < t.X),
                    y
                );
            y = free;
            taken.Add((x, y, width));
            sheet.Rectangle(x, y - 15, width, 17, Ink.Paper, Ink.Limit);
            sheet.Text(word, x + 3, y - 1, Ink.Text, 13, bold: true);
        }
    }

    private static List<(float, float, float, float)> Boundary(
        MapImage image,
        double limit,
        PixelRect data,
        Axis scan,
        Axis index
    )
    {
        var lines = new List<(float, float, float, float)>();
        float cellWidth = data.Width / image.Scans;
        float cellHeight = data.Height / image.Beams;
        for (int s = 0; s < image.Scans; s++)
        {
            for (int b = 0; b < image.Beams; b++)
            {
                float x = data.Left + (scan.Descending ? image.Scans - 1 - s : s) * cellWidth;
                float y = data.Top + (index.Descending ? b : image.Beams - 1 - b) * cellHeight;
                int right = scan.Descending ? s - 1 : s + 1;
                int down = index.Descending ? b + 1 : b - 1;
                if (right >= 0 && right < image.Scans && Separates(s, b, right, b))
                    lines.Add((x + cellWidth, y, x + cellWidth, y + cellHeight));
                if (down >= 0 && down < image.Beams && Separates(s, b, s, down))
                    lines.Add((x, y + cellHeight, x + cellWidth, y + cellHeight));
            }
        }
        return lines;

        // Cells without a value are on neither side.
        bool Separates(int s1, int b1, int s2, int b2)
        {
            if (image.Regions is { } labels)
                return labels[s1 * image.Beams + b1] != labels[s2 * image.Beams + b2];
            float one = image.ValuesMetres[s1 * image.Beams + b1];
            float other = image.ValuesMetres[s2 * image.Beams + b2];
            return !float.IsNaN(one) && !float.IsNaN(other) && one < limit != other < limit;
        }
    }

    private static void Legend(
        FigureSheet sheet,
        MapImage image,
        PixelRect data,
        string label,
        double unitsPerMetre,
        IColormap colours,
        double low,
        double high
    )
    {
        float x = data.Right + 48;
        var bar = new PixelRect(x, x + 22, data.Top + 200, data.Top + 26);
        ColourBar.Draw(sheet, bar, colours, low, high, label, image.LimitMetres * unitsPerMetre);
        float y = bar.Bottom + 34;
        var counts = new long[Enum.GetValues<CellStatus>().Length];
        foreach (byte status in image.Status)
            counts[Math.Min(status, counts.Length - 1)]++;
        sheet.Text(Cells(counts[0]) + " measured", x, y, Ink.Text);
        for (int status = 1; status < counts.Length; status++)
        {
            if (counts[status] == 0)
                continue;
            y += 24;
            sheet.Rectangle(x, y - 12, 18, 14, Ink.Status((CellStatus)status), Ink.Quiet);
            sheet.Text($"{Ink.Words((CellStatus)status)}: {Cells(counts[status])}", x + 27, y, Ink.Text);
        }
        if (image.LimitMetres is { } limit)
        {
            y += 24;
            sheet.Lines([(x, y - 5, x + 18, y - 5)], Ink.Limit, 2.5f);
            sheet.Text(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{(image.Regions is null ? "limit" : "regions below")} {limit * 1e3:0.###} mm"
                ),
                x + 27,
                y,
                Ink.Text
            );
        }
    }

    private static string Cells(long count) =>
        count.ToString("#,0", CultureInfo.InvariantCulture) + (count == 1 ? " cell" : " cells");

    private sealed class ReversedColours(IColormap colours) : IColormap
    {
        public string Name => colours.Name + ", reversed";

        public Color GetColor(double position) => colours.GetColor(1 - position);
    }

    /// <summary>Edges of the drawn axis: half a cell beyond the first and last position.</summary>
    private sealed record Axis(double Low, double High, string Label, bool Positioned, bool Descending)
    {
        public static Axis Of(IReadOnlyList<double>? metres, int count, string name)
        {
            if (metres is null || count < 2)
                return new Axis(-0.5, count - 0.5, name + ", cell number", false, false);
            double first = metres[0] * 1e3;
            double last = metres[count - 1] * 1e3;
            double half = Math.Abs(last - first) / (count - 1) / 2;
            return new Axis(
                Math.Min(first, last) - half,
                Math.Max(first, last) + half,
                name + ", mm",
                true,
                last < first
            );
        }
    }
}
