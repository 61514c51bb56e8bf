using System.Globalization;
using System.Text.RegularExpressions;
using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Text and pictures set from top to bottom over as many pages as they need.</summary>
internal sealed partial class PdfFlow(PdfDocument pdf) : IDisposable
{
    public const double Left = 43;
    public const double Width = 595 - 2 * Left;
    private const double Top = 46;
    private const double Bottom = 842 - 56;
    private const double Text = 9;

    public static readonly XColor Ink = XColor.FromArgb(0x20, 0x24, 0x2c);
    public static readonly XColor Quiet = XColor.FromArgb(0x4a, 0x52, 0x60);
    public static readonly XColor Rule = XColor.FromArgb(0xc5, 0xcb, 0xd3);
    public static readonly XColor Band = XColor.FromArgb(0xee, 0xf2, 0xf6);
    private static readonly XColor Accent = XColor.FromArgb(0x0f, 0x4f, 0x7f);
    private static readonly XColor Note = XColor.FromArgb(0xff, 0xf6, 0xe0);
    private static readonly XColor NoteEdge = XColor.FromArgb(0x9a, 0x6a, 0x00);

    private readonly Dictionary<(double, bool), XFont> _fonts = [];
    private XGraphics? _page;
    private PdfOutline? _chapter;

    public double Y { get; set; }

    public double Room => Bottom - Y;

    public XGraphics Page => _page ?? NewPage();

    public XGraphics NewPage()
    {
        _page?.Dispose();
        PdfPage page = pdf.AddPage();
        page.Size = PageSize.A4;
        _page = XGraphics.FromPdfPage(page);
        Y = Top;
        return _page;
    }

    /// <summary>Starts a page when less than this is left.</summary>
    public void Need(double height)
    {
        if (_page is null || (Y + height > Bottom && Y > Top))
            NewPage();
    }

    public XFont Font(double size, bool bold = false)
    {
        if (!_fonts.TryGetValue((size, bold), out XFont? font))
            _fonts[(size, bold)] = font = new XFont(
                PdfFonts.Family,
                size,
                bold ? XFontStyleEx.Bold : XFontStyleEx.Regular,
                new XPdfFontOptions(PdfFontEncoding.Unicode)
            );
        return font;
    }

    public void Title(string title, string subtitle)
    {
        Lines(title, Font(18, true), Ink, Left, Width, 23);
        Y += 3;
        Lines(subtitle, Font(Text), Quiet, Left, Width, 12.5);
        Y += 6;
    }

    public void Heading(int level, string text)
    {
        double size = level switch
        {
            2 => 13,
            3 => 10.5,
            _ => 9.5,
        };
        Need(level == 2 ? 90 : 60);
        Y += level == 2 ? 14 : 8;
        if (level == 2)
        {
            Page.DrawLine(new XPen(Accent, 1.2), Left, Y, Left + Width, Y);
            Y += 5;
        }
        PdfPage page = pdf.Pages[^1];
        if (level == 2 || _chapter is null)
            _chapter = pdf.Outlines.Add(text, page, false);
        else
            _chapter.Outlines.Add(text, page, false);
        Lines(text, Font(size, true), level == 2 ? Accent : Ink, Left, Width, size * 1.35);
        Y += 3;
    }

    public void Paragraph(string text)
    {
        Lines(text, Font(Text), Ink, Left, Width, 12.5);
        Y += 4;
    }

    public void List(IReadOnlyList<string> items)
    {
        foreach (string item in items)
        {
            Need(12.5);
            Page.DrawString("•", Font(Text), new XSolidBrush(Ink), Left + 2, Y + 9);
            Lines(item, Font(Text), Ink, Left + 13, Width - 13, 12.5);
        }
        Y += 4;
    }

    public void Notice(string title, IReadOnlyList<string> items)
    {
        string[] lines =
        [
            .. items.SelectMany(i => Wrap(i, Font(Text), Width - 32).Select((l, k) => (k == 0 ? "•" : "") + "\t" + l)),
        ];
        Y += 3;
        int done = -1;
        while (done < lines.Length)
        {
            Need(40);
            int fit = Math.Min(lines.Length - done, (int)((Room - 10) / 12.5));
            double height = fit * 12.5 + 9;
            Page.DrawRectangle(new XSolidBrush(Note), Left, Y, Width, height);
            Page.DrawRectangle(new XSolidBrush(NoteEdge), Left, Y, 3.5, height);
            Y += 4;
            for (int k = 0; k < fit; k++, done++, Y += 12.5)
            {
                string line = done < 0 ? title : lines[done];
                int tab = line.IndexOf('\t', StringComparison.Ordinal);
                if (tab >= 0)
                    Page.DrawString(line[..tab], Font(Text), new XSolidBrush(Ink), Left + 11, Y + 9);
                Page.DrawString(
                    line[(tab + 1)..],
                    Font(Text, done < 0),
                    new XSolidBrush(Ink),
                    Left + (done < 0 ? 11 : 22),
                    Y + 9
                );
            }
            Y += 5;
            if (done < lines.Length)
                NewPage();
        }
        Y += 6;
    }

    public void Literal(string text)
    {
        // The only face is proportional: a run of words starts at its column, so that columns set apart by two blanks or more keep their places.
        const double size = 6.8;
        const double pitch = size * 0.6;
        const double line = 9;
        int columns = (int)((Width - 12) / pitch);
        XFont font = Font(size);
        foreach (string whole in text.Split('\n'))
        {
            foreach (
                char[] part in whole.Length == 0
                    ?
                    [
                        [],
                    ]
                    : whole.Chunk(columns)
            )
            {
                Need(line);
                Page.DrawRectangle(new XSolidBrush(Band), Left, Y, Width, line);
                foreach (Match run in Runs().Matches(new string(part)))
                    Page.DrawString(Clean(run.Value), font, new XSolidBrush(Ink), Left + 6 + run.Index * pitch, Y + 7);
                Y += line;
            }
        }
        Y += 6;
    }

    /// <summary>Height a figure takes with its caption.</summary>
    public double HeightOf(byte[] png, string caption)
    {
        using var stream = new MemoryStream(png, 0, png.Length, false, true);
        using XImage image = XImage.FromStream(stream);
        return image.PixelHeight * ScaleOf(image, CaptionHeight(caption)) + CaptionHeight(caption);
    }

    public void Figure(byte[] png, string caption)
    {
        using var stream = new MemoryStream(png, 0, png.Length, false, true);
        using XImage image = XImage.FromStream(stream);
        double below = CaptionHeight(caption);
        double scale = ScaleOf(image, below);
        double height = image.PixelHeight * scale;
        Need(height + below);
        Page.DrawImage(image, Left, Y + 3, image.PixelWidth * scale, height);
        Y += height + 6;
        Lines(caption, Font(8), Quiet, Left, Width, 11);
        Y += 5;
    }

    private double CaptionHeight(string caption) => Wrap(caption, Font(8), Width).Length * 11 + 10;

    /// <summary>A picture never grows beyond two dots a point, and never beyond the page.</summary>
    private static double ScaleOf(XImage image, double below) =>
        Math.Min(0.5, Math.Min(Width / image.PixelWidth, Math.Min(520, Bottom - Top - below - 70) / image.PixelHeight));

    /// <summary>Page numbers and the foot, once the number of pages is known.</summary>
    public void Feet(string foot)
    {
        _page?.Dispose();
        _page = null;
        for (int k = 0; k < pdf.PageCount; k++)
        {
            using XGraphics page = XGraphics.FromPdfPage(pdf.Pages[k], XGraphicsPdfPageOptions.Append);
            XFont font = Font(7);
            var brush = new XSolidBrush(Quiet);
            string number = string.Create(CultureInfo.InvariantCulture, $"{k + 1} of {pdf.PageCount}");
            page.DrawLine(new XPen(Rule, 0.6), Left, 804, Left + Width, 804);
            page.DrawString(Clean(foot), font, brush, Left, 815);
            page.DrawString(number, font, brush, Left + Width - page.MeasureString(number, font).Width, 815);
        }
    }

    public void Lines(string text, XFont font, XColor colour, double x, double width, double height)
    {
        foreach (string line in Wrap(text, font, width))
        {
            Need(height);
            Page.DrawString(line, font, new XSolidBrush(colour), x, Y + height * 0.78);
            Y += height;
        }
    }

    /// <summary>Breaks text at blanks, and words that are too long anywhere.</summary>
    public string[] Wrap(string text, XFont font, double width)
    {
        var lines = new List<string>();
        string line = "";
        foreach (string word in Clean(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string rest = word;
            string longer = line.Length == 0 ? rest : line + " " + rest;
            if (WidthOf(longer, font) <= width)
            {
                line = longer;
                continue;
            }
            if (line.Length > 0)
                lines.Add(line);
            while (WidthOf(rest, font) > width && rest.Length > 1)
            {
                int fit = 1;
                while (fit + 1 < rest.Length && WidthOf(rest[..(fit + 1)], font) <= width)
                    fit++;
                lines.Add(rest[..fit]);
                rest = rest[fit..];
            }
            line = rest;
        }
        lines.Add(line);
        return [.. lines];
    }

    public double WidthOf(string text, XFont font) => Page.MeasureString(text, font).Width;

    public void Dispose() => _page?.Dispose();

    private static string Clean(string text) =>
        string.Concat(
            text.Select(c =>
                char.IsControl(c) ? ' '
                : char.IsSurrogate(c) ? '\uFFFD'
                : c
            )
        );

    [GeneratedRegex(@"[^ ]+(?: [^ ]+)*")]
    private static partial Regex Runs();
}
