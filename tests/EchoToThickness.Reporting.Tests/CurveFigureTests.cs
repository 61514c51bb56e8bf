using EchoToThickness.Reporting.Figures;
using SkiaSharp;
using Xunit;

namespace EchoToThickness.Reporting.Tests;

public sealed class CurveFigureTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-curves").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(".png")]
    [InlineData(".svg")]
    public void Save_Twice_GivesTheSameFile(string extension)
    {
        string first = Save("a" + extension, bound: true);
        string second = Save("b" + extension, bound: true);
        Assert.Equal(File.ReadAllBytes(first), File.ReadAllBytes(second));
        Assert.Equal(2, Directory.GetFiles(_folder).Length);
    }

    [Fact]
    public void Save_Svg_NamesMethodsAxesAndBound()
    {
        string text = File.ReadAllText(Save("a.svg", bound: true));
        string words = string.Join(
            '\n',
            System
                .Xml.Linq.XDocument.Parse(text)
                .Descendants()
                .Where(e => e.Name.LocalName == "text")
                .Select(e => e.Value.Trim())
        );
        Assert.All(
            ["flank", "matched filter", "RMSE, µm", "snr, dB", "wall 8 mm"],
            word => Assert.Contains(word, words, StringComparison.Ordinal)
        );
        Assert.Contains("Rao bound", words, StringComparison.Ordinal);
        string without = File.ReadAllText(Save("b.svg", bound: false));
        Assert.DoesNotContain("Rao bound", without, StringComparison.Ordinal);
        // The bound is drawn dash by dash: 250 units high and 330 wide take at least a dozen dashes of 16 units a period.
        Assert.True(
            Count(text, "<path") + Count(text, "<line") > Count(without, "<path") + Count(without, "<line") + 12
        );
    }

    /// <summary>A curve on a logarithmic axis with a value of zero, one without any value, and one that repeats a colour.</summary>
    [Fact]
    public void Save_EmptyAndZeroValues_AreLeftOut()
    {
        double[] nothing = [double.NaN, double.NaN];
        string path = Path.Combine(_folder, "odd.png");
        CurveFigure.Save(
            "odd",
            "",
            [
                new CurvePanel
                {
                    Title = "",
                    XLabel = "x",
                    YLabel = "y",
                    Logarithmic = true,
                    Curves =
                    [
                        new Curve(0, [1, 2], [0, 1], [0, 0.5], [0, 2]),
                        new Curve(1, [1, 2], nothing, nothing, nothing),
                        new Curve(9, [1, 2], [1, 3], nothing, nothing),
                    ],
                },
            ],
            [.. Enumerable.Range(0, 10).Select(i => $"method {i}")],
            path
        );
        using SKBitmap bitmap = SKBitmap.Decode(path);
        Assert.True(bitmap.Width > 1000);
        Assert.Throws<ArgumentException>(() => CurveFigure.Save("none", "", [], ["a"], path));
    }

    private string Save(string name, bool bound)
    {
        string path = Path.Combine(_folder, name);
        double[] x = [10, 20, 30];
        double[] none = [double.NaN, double.NaN, double.NaN];
        CurveFigure.Save(
            "Error by snr",
            "two methods",
            [
                new CurvePanel
                {
                    Title = "wall 8 mm",
                    XLabel = "snr, dB",
                    YLabel = "RMSE, µm",
                    Logarithmic = true,
                    Curves =
                    [
                        new Curve(0, x, [60, 12, 3], [50, 11, 2.5], [70, 13, 3.5]),
                        new Curve(1, x, [6, 2, 0.6], [5, 1.8, 0.5], [7, 2.2, 0.7]),
                    ],
                    Bound = bound ? new Curve(0, x, [5, 1.6, 0.5], none, none) : null,
                },
            ],
            ["flank", "matched filter"],
            path
        );
        return path;
    }

    private static int Count(string text, string part) => text.Split(part).Length - 1;
}
