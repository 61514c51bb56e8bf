using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using ScottPlot;
using SkiaSharp;

namespace EchoToThickness.Reporting.Figures;

/// <summary>A sheet on which plots, text and marks are placed by position, and which saves itself as PNG (two dots a unit) or SVG.</summary>
internal sealed partial class FigureSheet : IDisposable
{
    /// <summary>Units are CSS pixels of 1/96 inch: 14 units of letter height are 10.5 points.</summary>
    public const float TextSize = 14;

    private readonly List<Action<SKCanvas>> _marks = [];
    private readonly List<IDisposable> _owned = [];

    public FigureSheet(int width, int height, string title, string subtitle = "")
    {
        _ = FigureFonts.Regular;
        Width = width;
        Height = height;
        Text(title, 24, 36, Ink.Text, 20, bold: true);
        if (subtitle.Length > 0)
            Text(subtitle, 24, 60, Ink.Quiet);
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Names and values kept inside the file.</summary>
    public IReadOnlyList<(string Name, string Value)> Notes { get; init; } = [];

    /// <summary>Places a plot so that its data area is exactly the rectangle; labels go into the margins around it.</summary>
    public Plot Plot(PixelRect data, float left = 90, float bottom = 62)
    {
        var plot = new Plot();
        const float top = 12;
        const float right = 16;
        plot.FigureBackground.Color = Ink.Paper;
        plot.DataBackground.Color = Ink.Paper;
        plot.Grid.MajorLineColor = Ink.Rule;
        plot.Axes.Color(Ink.Text);
        plot.Font.Set(FigureFonts.Family, FontWeight.Normal, FontSlant.Upright, FontSpacing.Normal);
        foreach (IAxis axis in plot.Axes.GetAxes())
        {
            axis.TickLabelStyle.FontName = FigureFonts.Family;
            axis.TickLabelStyle.FontSize = TextSize;
            axis.Label.FontName = FigureFonts.Family;
            axis.Label.FontSize = TextSize + 1;
            axis.Label.Bold = false;
        }
        plot.Layout.Fixed(new PixelPadding(left, right, bottom, top));
        var outer = new PixelRect(data.Left - left, data.Right + right, data.Bottom + bottom, data.Top - top);
        _owned.Add(plot);
        _marks.Add(canvas =>
        {
            // Rendering a plot clears the canvas as far as the clip allows.
            canvas.Save();
            canvas.ClipRect(outer.ToSKRect());
            plot.Render(canvas, outer);
            canvas.Restore();
        });
        return plot;
    }

    /// <summary>Puts coloured cells into a plot and keeps them until the sheet is gone.</summary>
    public void Add(Plot plot, Picture picture)
    {
        plot.Add.Plottable(picture);
        _owned.Add(picture);
    }

    public void Text(
        string text,
        float x,
        float y,
        Color colour,
        float size = TextSize,
        bool bold = false,
        SKTextAlign align = SKTextAlign.Left,
        float turn = 0
    ) =>
        _marks.Add(canvas =>
        {
            using var font = new SKFont(bold ? FigureFonts.Bold : FigureFonts.Regular, size);
            using var paint = new SKPaint { Color = colour.ToSKColor(), IsAntialias = true };
            canvas.Save();
            canvas.Translate(x, y);
            canvas.RotateDegrees(turn);
            canvas.DrawText(text, 0, 0, align, font, paint);
            canvas.Restore();
        });

    public void Rectangle(float x, float y, float width, float height, Color fill, Color? outline = null) =>
        _marks.Add(canvas =>
        {
            using var paint = new SKPaint { Color = fill.ToSKColor() };
            canvas.DrawRect(x, y, width, height, paint);
            if (outline is not { } colour)
                return;
            paint.Color = colour.ToSKColor();
            paint.IsStroke = true;
            paint.StrokeWidth = 1;
            canvas.DrawRect(x, y, width, height, paint);
        });

    public void Disc(float x, float y, float radius, Color fill) =>
        _marks.Add(canvas =>
        {
            using var paint = new SKPaint { Color = fill.ToSKColor(), IsAntialias = true };
            canvas.DrawCircle(x, y, radius, paint);
        });

    public void Lines(IReadOnlyList<(float X1, float Y1, float X2, float Y2)> lines, Color colour, float width) =>
        _marks.Add(canvas =>
        {
            using var paint = new SKPaint
            {
                Color = colour.ToSKColor(),
                IsStroke = true,
                StrokeWidth = width,
                StrokeCap = SKStrokeCap.Square,
                IsAntialias = true,
            };
            using var path = new SKPath();
            foreach ((float x1, float y1, float x2, float y2) in lines)
            {
                path.MoveTo(x1, y1);
                path.LineTo(x2, y2);
            }
            canvas.DrawPath(path, paint);
        });

    /// <summary>Breaks text at blanks so that no line is wider than a width.</summary>
    public static IReadOnlyList<string> Wrap(string text, float width, float size = TextSize)
    {
        using var font = new SKFont(FigureFonts.Regular, size);
        var lines = new List<string>();
        string line = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && font.MeasureText(longer) > width)
            {
                lines.Add(line);
                longer = word;
            }
            line = longer;
        }
        lines.Add(line);
        return lines;
    }

    /// <summary>Saves by the extension of the path; the file appears complete or not at all.</summary>
    public void Save(string path)
    {
        string extension = Path.GetExtension(path).ToLowerInvariant();
        if (extension is not (".png" or ".svg"))
            throw new ArgumentException($"A figure is saved as .png or .svg, not '{extension}'.", nameof(path));
        string part = path + ".part";
        try
        {
            using (FileStream stream = File.Create(part))
                Write(stream, extension);
            File.Move(part, path, overwrite: true);
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }

    /// <summary>Writes the sheet as <c>.png</c> or <c>.svg</c>.</summary>
    public void Write(Stream stream, string extension)
    {
        if (extension == ".svg")
            WriteSvg(stream);
        else
            WritePng(stream);
    }

    public void Dispose()
    {
        foreach (IDisposable owned in _owned)
            owned.Dispose();
    }

    private void WritePng(Stream stream)
    {
        using SKSurface surface = SKSurface.Create(new SKImageInfo(2 * Width, 2 * Height));
        surface.Canvas.Scale(2);
        Draw(surface.Canvas);
        using SKImage image = surface.Snapshot();
        using SKData data = image.Encode(SKEncodedImageFormat.Png, 100);
        stream.Write(Notes.Count > 0 ? PngText.Insert(data.AsSpan(), Notes) : data.AsSpan());
    }

    private void WriteSvg(Stream stream)
    {
        using var buffer = new MemoryStream();
        using (SKCanvas canvas = SKSvgCanvas.Create(new SKRect(0, 0, Width, Height), buffer))
            Draw(canvas);
        // The drawing library numbers its objects by a counter of the process; number them by the file, so that equal figures are equal bytes.
        var numbers = new Dictionary<string, string>();
        string svg = ObjectName()
            .Replace(
                Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length),
                match =>
                {
                    if (!numbers.TryGetValue(match.Value, out string? name))
                        numbers[match.Value] = name =
                            $"{match.Groups[1].Value}_{numbers.Count.ToString(CultureInfo.InvariantCulture)}";
                    return name;
                }
            );
        if (Notes.Count > 0)
        {
            string words = string.Join('\n', Notes.Select(n => $"{n.Name}: {n.Value}"));
            int open = svg.IndexOf('>', svg.IndexOf("<svg", StringComparison.Ordinal)) + 1;
            svg = svg.Insert(open, $"<desc>{System.Security.SecurityElement.Escape(words)}</desc>");
        }
        stream.Write(Encoding.UTF8.GetBytes(svg));
    }

    [GeneratedRegex(@"(?<=id=""|url\(#|href=""#)([a-z]+)_[0-9a-f]+")]
    private static partial Regex ObjectName();

    private void Draw(SKCanvas canvas)
    {
        canvas.DrawRect(0, 0, Width, Height, new SKPaint { Color = Ink.Paper.ToSKColor() });
        foreach (Action<SKCanvas> mark in _marks)
            mark(canvas);
    }
}
