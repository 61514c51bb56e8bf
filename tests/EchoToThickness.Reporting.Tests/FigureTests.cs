using System.Text;
using EchoToThickness.Reporting.Figures;
using ScottPlot;
using SkiaSharp;
using Xunit;

namespace EchoToThickness.Reporting.Tests;

public sealed class FigureTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-figures").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Fonts_ShippedTypefaces_AreFoundByName()
    {
        Assert.Equal(FigureFonts.Family, FigureFonts.Regular.FamilyName);
        Assert.Equal(FigureFonts.Family, FigureFonts.Bold.FamilyName);
        Assert.False(FigureFonts.Regular.IsBold);
        Assert.True(FigureFonts.Bold.IsBold);
        SKTypeface? found = Fonts.GetTypeface(FigureFonts.Family, bold: false, italic: false);
        Assert.NotNull(found);
        Assert.Equal(FigureFonts.Family, found.FamilyName);
        // Letters, micro sign and minus that figures use must have glyphs.
        Assert.All("Aµ²°≤×–0", letter => Assert.NotEqual(0, FigureFonts.Regular.GetGlyph(letter)));
    }

    [Fact]
    public void Fonts_Licence_IsShippedBesideTheFont()
    {
        using Stream? stream = typeof(FigureFonts).Assembly.GetManifestResourceStream("LICENSE-DejaVu.txt");
        Assert.NotNull(stream);
        Assert.Contains("Bitstream", new StreamReader(stream).ReadToEnd(), StringComparison.Ordinal);
    }

    [Fact]
    public void WallColours_FromThickToThin_LightnessRisesEvenlyForEveryEye()
    {
        // CIE lightness from relative luminance (IEC 61966-2-1 and CIE 15); the same for a reader without one kind of cone as far as
        // luminance goes, so order in lightness is order for everybody.
        var colours = new WallColours();
        double[] lightness = Enumerable.Range(0, 65).Select(i => Lightness(colours.GetColor(1 - i / 64.0))).ToArray();
        double[] steps = lightness.Skip(1).Zip(lightness, (b, a) => b - a).ToArray();
        Assert.All(steps, step => Assert.True(step > 0.4, $"step {step}"));
        Assert.True(steps.Max() < 3 * steps.Average(), "one step of the scale is far larger than the rest");
        Assert.True(lightness[^1] - lightness[0] > 60);
    }

    [Theory]
    [InlineData(".png")]
    [InlineData(".svg")]
    public void MapFigure_SameImageTwice_GivesTheSameFile(string extension)
    {
        string first = Path.Combine(_folder, "a" + extension);
        string second = Path.Combine(_folder, "b" + extension);
        MapFigure.Save(FigureScenes.Map(), first);
        MapFigure.Save(FigureScenes.Map(), second);
        Assert.Equal(File.ReadAllBytes(first), File.ReadAllBytes(second));
        Assert.Equal(2, Directory.GetFiles(_folder).Length); // and no temporary file is left
    }

    /// <summary>A plot clears its part of the sheet, which in SVG is a black rectangle unless something white lies over it.</summary>
    [Fact]
    public void MapFigure_Svg_HasNothingBlackBehindThePlot()
    {
        string path = Path.Combine(_folder, "clear.svg");
        MapFigure.Save(FigureScenes.Map(), path);
        System.Xml.Linq.XElement[] rectangles =
        [
            .. System
                .Xml.Linq.XDocument.Load(path)
                .Descendants()
                .Where(e => e.Name.LocalName == "rect" && e.Ancestors().All(a => a.Name.LocalName != "clipPath")),
        ];
        int cleared = 0;
        for (int i = 0; i < rectangles.Length; i++)
            if (rectangles[i].Attribute("fill") is null && rectangles[i].Attribute("style") is null)
            {
                cleared++;
                Assert.Equal("white", rectangles[i + 1].Attribute("fill")?.Value);
            }
        Assert.True(cleared > 0);
    }

    [Fact]
    public void MapFigure_Svg_NamesEveryStatusAndUnit()
    {
        string path = Path.Combine(_folder, "map.svg");
        MapFigure.Save(FigureScenes.Map(), path);
        string text = Words(File.ReadAllText(path));
        Assert.All(
            [
                "wall thickness, mm",
                "scan axis, mm",
                "index axis, mm",
                "no interface echo",
                "laminar reflector",
                "limit 6 mm",
            ],
            words => Assert.Contains(words, text, StringComparison.Ordinal)
        );
        Assert.Contains("not scanned: 272 cells", text, StringComparison.Ordinal); // 4 x 68 cells of the scene
    }

    [Fact]
    public void MapFigure_Pixels_ShowThinLightAndUnscannedWhite()
    {
        string path = Path.Combine(_folder, "map.png");
        MapFigure.Save(FigureScenes.Map() with { LimitMetres = null }, path);
        using SKBitmap bitmap = SKBitmap.Decode(path);
        // Data area: x from 110, y from 90, 560 units high and 560 * 160 / 128 = 700 wide, two dots a unit.
        Assert.Equal(SKColors.White, Cell(32, 100)); // the strip nobody scanned
        Assert.Equal(SKColor.Parse("#0f8f6a"), Cell(20, 38)); // laminar reflector
        SKColor pit = Cell(58, 60);
        SKColor sound = Cell(5, 120);
        Assert.True(Luminance(pit) > 0.4 && Luminance(sound) < 0.1, $"{pit} {sound}");

        SKColor Cell(int scan, int beam) =>
            bitmap.GetPixel((int)(2 * (110 + (scan + 0.5) * 700 / 160)), (int)(2 * (90 + (127.5 - beam) * 560 / 128)));
    }

    [Fact]
    public void MapFigure_ThreeByTwoCells_FillEqualThirdsAndHalves()
    {
        string path = Path.Combine(_folder, "small.png");
        MapFigure.Save(
            new MapImage
            {
                Title = "six cells",
                Scans = 3,
                Beams = 2,
                ValuesMetres = [5e-3f, float.NaN, 9e-3f, float.NaN, float.NaN, 5e-3f],
                Status = [0, 1, 0, 7, 7, 0],
                ScanPositionsMetres = [0.0, 1e-3, 2e-3],
                IndexPositionsMetres = [0.0, 1e-3],
            },
            path
        );
        using SKBitmap bitmap = SKBitmap.Decode(path);
        // To scale: 3 x 2 mm in 840 x 560 units from (110, 90); cell edges at thirds and halves, tried 2 units to either side.
        SKColor thin = bitmap.GetPixel(2 * (110 + 278), 2 * (90 + 282));
        Assert.True(Luminance(thin) > 0.6);
        Assert.Equal(SKColor.Parse("#d3d7dc"), bitmap.GetPixel(2 * (110 + 278), 2 * (90 + 278)));
        Assert.True(Luminance(bitmap.GetPixel(2 * (110 + 282), 2 * (90 + 282))) < 0.1);
        Assert.Equal(SKColors.White, bitmap.GetPixel(2 * (110 + 558), 2 * (90 + 278)));
        Assert.Equal(SKColors.White, bitmap.GetPixel(2 * (110 + 562), 2 * (90 + 282)));
        Assert.Equal(thin, bitmap.GetPixel(2 * (110 + 562), 2 * (90 + 278)));
    }

    [Fact]
    public void MapFigure_MoreCellsThanDots_ShowsTheSmallestAndSaysSo()
    {
        string path = Path.Combine(_folder, "long");
        const int scans = 10_000;
        float[] values = Enumerable.Repeat(9e-3f, scans * 10).ToArray();
        values[5_001 * 10 + 5] = 5e-3f; // one thin cell of a hundred thousand
        var image = new MapImage
        {
            Title = "long",
            Scans = scans,
            Beams = 10,
            ValuesMetres = values,
            Status = new byte[values.Length],
        };
        MapFigure.Save(image, path + ".svg");
        MapFigure.Save(image, path + ".png");
        Assert.Contains(
            "smallest value of its cells",
            Words(File.ReadAllText(path + ".svg")),
            StringComparison.Ordinal
        );
        using SKBitmap bitmap = SKBitmap.Decode(path + ".png");
        int light = Enumerable
            .Range(0, 1800)
            .Count(x => Luminance(bitmap.GetPixel(220 + x, 180 + (int)(520 * 0.45))) > 0.5);
        Assert.Equal(1, light);
    }

    [Fact]
    public void MapFigure_OtherExtension_IsRefusedByName()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(() =>
            MapFigure.Save(FigureScenes.Map(), Path.Combine(_folder, "map.bmp"))
        );
        Assert.Contains(".png or .svg", error.Message, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(_folder));
    }

    [Fact]
    public void HistogramFigure_Svg_CountsCells()
    {
        string path = Path.Combine(_folder, "histogram.svg");
        MapImage map = FigureScenes.Map();
        HistogramFigure.Save(map, path);
        string text = Words(File.ReadAllText(path));
        int measured = map.ValuesMetres.Count(v => !float.IsNaN(v));
        int below = map.ValuesMetres.Count(v => v < 6e-3);
        Assert.Contains($"{measured:#,0} cells with a thickness", text, StringComparison.Ordinal);
        Assert.Contains($"{below:#,0} cells below it", text, StringComparison.Ordinal);
    }

    [Fact]
    public void HistogramFigure_NothingMeasured_SaysSo()
    {
        string path = Path.Combine(_folder, "none.svg");
        HistogramFigure.Save(
            FigureScenes.Map() with
            {
                ValuesMetres = Enumerable.Repeat(float.NaN, 160 * 128).ToArray(),
            },
            path
        );
        Assert.Contains("No cell has a thickness", Words(File.ReadAllText(path)), StringComparison.Ordinal);
    }

    [Fact]
    public void AScanFigure_Svg_NamesRolesPairAndRunnerUp()
    {
        string path = Path.Combine(_folder, "ascan.svg");
        (var trace, var neighbours) = FigureScenes.AScan();
        AScanFigure.Save(trace, neighbours, path);
        string text = Words(File.ReadAllText(path));
        string wall = (trace.Result.ThicknessMetres * 1e3).ToString(
            "F3",
            System.Globalization.CultureInfo.InvariantCulture
        );
        Assert.All(
            [
                "scan position 60, beam 62",
                $"wall {wall} mm",
                "gate wall 1",
                "back-wall echo 2",
                "couplant multiple",
                "runner-up",
                "time from the pulse, µs",
            ],
            words => Assert.Contains(words, text, StringComparison.Ordinal)
        );
    }

    [Fact]
    public void AScanFigure_NothingFound_StillDraws()
    {
        string path = Path.Combine(_folder, "empty.png");
        var trace = new Measurement.MeasurementTrace
        {
            SampleRateHz = 1e8,
            Raw = new float[500],
            Signal = new float[500],
            Result = Pairing.CellResult.Unmeasured(Pairing.CellStatus.NoInterfaceEcho),
        };
        AScanFigure.Save(trace, [], path);
        using SKBitmap bitmap = SKBitmap.Decode(path);
        Assert.True(bitmap.Width > 1000 && bitmap.Height > 1000);
    }

    /// <summary>The letters of the drawing in order; SVG text may be cut into runs and escaped.</summary>
    private static string Words(string svg)
    {
        var words = new StringBuilder();
        foreach (System.Xml.Linq.XElement text in System.Xml.Linq.XDocument.Parse(svg).Descendants())
        {
            if (text.Name.LocalName == "text")
                words.Append(text.Value.Trim()).Append('\n');
        }
        return words.ToString();
    }

    private static double Lightness(Color colour) =>
        116 * Math.Cbrt(Luminance(new SKColor(colour.R, colour.G, colour.B))) - 16;

    private static double Luminance(SKColor colour) =>
        0.2126 * Linear(colour.Red) + 0.7152 * Linear(colour.Green) + 0.0722 * Linear(colour.Blue);

    private static double Linear(byte channel)
    {
        double value = channel / 255.0;
        return value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4);
    }
}
