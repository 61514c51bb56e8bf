using System.Globalization;
using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Draws one or two maps of categories above each other, with one legend.</summary>
internal static class CategoryMapFigure
{
    private const float Left = 110;
    private const float LegendWidth = 320;
    private const float Gap = 110;

    /// <summary>Draws maps of the same cells.</summary>
    /// <param name="title">Title of the sheet.</param>
    /// <param name="subtitle">Words under it.</param>
    /// <param name="maps">Maps; those of one sheet have the same legend.</param>
    /// <param name="path">.png or .svg.</param>
    public static void Save(string title, string subtitle, IReadOnlyList<CategoryMap> maps, string path)
    {
        (float width, float height) = Size(maps[0]);
        float top = 120;
        float sheetWidth = Left + width + 50 + LegendWidth;
        string[] lines = [.. FigureSheet.Wrap(subtitle, sheetWidth - 48)];
        top += 20 * (lines.Length - 1);
        float legendHeight = 40 + 24 * maps[0].Legend.Count;
        float body = Math.Max(maps.Count * (height + Gap), legendHeight);
        using var sheet = new FigureSheet((int)sheetWidth, (int)(top + body), title);
        for (int i = 0; i < lines.Length; i++)
            sheet.Text(lines[i], 24, 60 + 20 * i, Ink.Quiet);
        for (int i = 0; i < maps.Count; i++)
        {
            float upper = top + i * (height + Gap);
            Draw(sheet, maps[i], new PixelRect(Left, Left + width, upper + height, upper));
        }
        Legend(sheet, maps, Left + width + 50, top);
        sheet.Save(path);
    }

    private static void Draw(FigureSheet sheet, CategoryMap map, PixelRect data)
    {
        Plot plot = sheet.Plot(data);
        string remark =
            map.Scans > 2 * data.Width || map.Beams > 2 * data.Height ? "; a dot shows the worst of its cells" : "";
        sheet.Text(map.Title + remark, data.Left, data.Top - 10, Ink.Text, bold: true);
        (double low, double high, string label) = Axis(map.ScanPositionsMetres, map.Scans, "scan axis");
        (double bottom, double upper, string side) = Axis(map.IndexPositionsMetres, map.Beams, "index axis");
        bool scansFall = low > high;
        bool beamsFall = bottom > upper;
        var place = new CoordinateRect(
            Math.Min(low, high),
            Math.Max(low, high),
            Math.Min(bottom, upper),
            Math.Max(bottom, upper)
        );
        Picture picture = Picture.Paint(
            map.Scans,
            map.Beams,
            place,
            data.Width,
            data.Height,
            (column, columns, row, rows) =>
            {
                byte worst = 0;
                for (int c = column; c < column + columns; c++)
                for (int r = row; r < row + rows; r++)
                {
                    int scan = scansFall ? map.Scans - 1 - c : c;
                    // Row 0 of a picture is its top; the index axis grows upward.
                    int beam = beamsFall ? r : map.Beams - 1 - r;
                    worst = Math.Max(worst, map.Categories[scan * map.Beams + beam]);
                }
                return map.Legend[Math.Min(worst, map.Legend.Count - 1)].Colour;
            }
        );
        sheet.Add(plot, picture);
        plot.Axes.SetLimits(place.Left, place.Right, place.Bottom, place.Top);
        plot.Grid.IsVisible = false;
        plot.XLabel(label);
        plot.YLabel(side);
    }

    private static void Legend(FigureSheet sheet, IReadOnlyList<CategoryMap> maps, float x, float y)
    {
        for (int category = 0; category < maps[0].Legend.Count; category++)
        {
            long[] counts = [.. maps.Select(m => m.Categories.LongCount(c => c == category))];
            if (counts.All(c => c == 0))
                continue;
            sheet.Rectangle(x, y, 18, 14, maps[0].Legend[category].Colour, Ink.Quiet);
            string cells = string.Join(" / ", counts.Select(c => c.ToString("#,0", CultureInfo.InvariantCulture)));
            sheet.Text($"{maps[0].Legend[category].Word}: {cells}", x + 27, y + 12, Ink.Text);
            y += 24;
        }
    }

    private static (float Width, float Height) Size(CategoryMap map)
    {
        (double low, double high, _) = Axis(map.ScanPositionsMetres, map.Scans, "");
        (double bottom, double top, _) = Axis(map.IndexPositionsMetres, map.Beams, "");
        double aspect = Math.Abs(high - low) / Math.Abs(top - bottom);
        const float widest = 760;
        return aspect is > 1.5 and < 6 ? (widest, (float)(widest / aspect))
            : aspect >= 6 ? (widest, 200)
            : ((float)Math.Max(260, 420 * aspect), 420);
    }

    private static (double Low, double High, string Label) Axis(IReadOnlyList<double>? metres, int count, string name)
    {
        if (metres is null || count < 2)
            return (-0.5, count - 0.5, name + ", cell number");
        double half = (metres[count - 1] - metres[0]) * 1e3 / (count - 1) / 2;
        return (metres[0] * 1e3 - half, metres[count - 1] * 1e3 + half, name + ", mm");
    }
}
