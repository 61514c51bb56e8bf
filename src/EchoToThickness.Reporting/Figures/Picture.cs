using ScottPlot;
using SkiaSharp;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Coloured cells inside a plot with exact edges: no smoothing and no half-cell shift, in PNG and in SVG.</summary>
internal sealed class Picture : IPlottable, IDisposable
{
    private readonly SKBitmap _bitmap;
    private readonly CoordinateRect _place;

    private Picture(SKBitmap bitmap, CoordinateRect place)
    {
        _bitmap = bitmap;
        _place = place;
    }

    public bool IsVisible { get; set; } = true;

    public IAxes Axes { get; set; } = new Axes();

    public IEnumerable<LegendItem> LegendItems => LegendItem.None;

    /// <summary>Paints cells.</summary>
    /// <param name="columns">Cells from left to right.</param>
    /// <param name="rows">Cells from top to bottom.</param>
    /// <param name="place">Outer edges of the outermost cells.</param>
    /// <param name="width">Width on the sheet.</param>
    /// <param name="height">Height on the sheet.</param>
    /// <param name="colour">Colour of a block of cells: first column, columns, first row, rows. More than one cell only where a dot holds several.</param>
    public static Picture Paint(
        int columns,
        int rows,
        CoordinateRect place,
        float width,
        float height,
        Func<int, int, int, int, Color> colour
    )
    {
        int dotsAcross = Math.Max(1, (int)(2 * width));
        int dotsDown = Math.Max(1, (int)(2 * height));
        var bitmap = new SKBitmap(dotsAcross, dotsDown, SKColorType.Rgba8888, SKAlphaType.Unpremul);
        var dots = new SKColor[dotsAcross * dotsDown];
        int lastRow = -1;
        for (int y = 0; y < dotsDown; y++)
        {
            (int row, int rowCount) = Cells(y, dotsDown, rows);
            if (row == lastRow && rowCount == 1)
            {
                Array.Copy(dots, (y - 1) * dotsAcross, dots, y * dotsAcross, dotsAcross);
                continue;
            }
            lastRow = rowCount == 1 ? row : -1;
            for (int x = 0; x < dotsAcross; x++)
            {
                (int column, int columnCount) = Cells(x, dotsAcross, columns);
                dots[y * dotsAcross + x] = colour(column, columnCount, row, rowCount).ToSKColor();
            }
        }
        bitmap.Pixels = dots;
        return new Picture(bitmap, place);
    }

    public AxisLimits GetAxisLimits() => new(_place);

    public void Render(RenderPack rp)
    {
        using SKImage image = SKImage.FromBitmap(_bitmap);
        rp.Canvas.DrawImage(
            image,
            Axes.GetPixelRect(_place).ToSKRect(),
            new SKSamplingOptions(SKFilterMode.Nearest, SKMipmapMode.None)
        );
    }

    public void Dispose() => _bitmap.Dispose();

    private static (int First, int Count) Cells(int dot, int dots, int cells)
    {
        int first = (int)((long)dot * cells / dots);
        int end = (int)((long)(dot + 1) * cells / dots);
        return (first, Math.Max(1, end - first));
    }
}
