using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using EchoToThickness.Reporting.Documents;
using PdfSharp.Pdf;
using PdfSharp.Pdf.Advanced;
using PdfSharp.Pdf.IO;
using Xunit;

namespace EchoToThickness.Reporting.Tests.Documents;

public sealed class PdfWriterTests
{
    [Fact]
    public void Write_EveryBlock_TextCanBeReadBackOnTheRightPages()
    {
        string[] rows = [.. Enumerable.Range(0, 160).Select(r => $"row{r}")];
        using PdfDocument pdf = Open(
            new HeadingBlock(2, "Erste µ Ω"),
            new ParagraphBlock(new string('x', 400)),
            new FactsBlock([("name", "value")]),
            new NoticeBlock("Cautions", ["mind the gap"]),
            new LiteralBlock("a  b\n\n" + new string('-', 300)),
            new TableBlock("caption", ["first", "second"], [.. rows.Select(r => (string[])[r, "1.25 mm"])]),
            new SignatureBlock(["Reviewed by"])
        );
        string[] pages = [.. pdf.Pages.Cast<PdfPage>().Select(TextOf)];
        // 160 rows of 13.8 points on pages of 740 points: at least three, at most five with the rest.
        Assert.InRange(pages.Length, 3, 5);
        string all = string.Concat(pages);
        Assert.All(
            (string[])["Title", "Erste µ Ω", "mind the gap", "value", "caption", "Reviewed by", "foot", .. rows],
            text => Assert.Contains(text, all, StringComparison.Ordinal)
        );
        Assert.Equal(400, all.Count(c => c == 'x'));
        // The head of the table stands again on every page that it covers; page numbers on all.
        Assert.All(
            pages.Where(p => p.Contains("1.25 mm", StringComparison.Ordinal)),
            p => Assert.Contains("second", p, StringComparison.Ordinal)
        );
        for (int k = 0; k < pages.Length; k++)
            Assert.Contains(
                string.Create(CultureInfo.InvariantCulture, $"{k + 1} of {pages.Length}"),
                pages[k],
                StringComparison.Ordinal
            );
    }

    [Fact]
    public void Write_CellTallerThanAPage_EndsAndLosesNothing()
    {
        string tall = string.Join(' ', Enumerable.Range(0, 3000).Select(k => $"w{k}"));
        using PdfDocument pdf = Open(
            new TableBlock(
                "tall",
                ["a", "b"],
                [
                    ["k", tall],
                ]
            )
        );
        string all = string.Concat(pdf.Pages.Cast<PdfPage>().Select(TextOf));
        Assert.All((int[])[0, 1, 1499, 2998, 2999], k => Assert.Contains($"w{k}", all, StringComparison.Ordinal));
    }

    private static PdfDocument Open(params ReportBlock[] blocks)
    {
        byte[] bytes = PdfWriter.Write(
            new ReportDocument
            {
                Title = "Title",
                Subtitle = "subtitle",
                Foot = "foot",
                Blocks = blocks,
            }
        );
        return PdfReader.Open(new MemoryStream(bytes), PdfDocumentOpenMode.Import);
    }

    /// <summary>Text of a page by the fonts' own tables of characters (ISO 32000-1, 9.10.3).</summary>
    private static string TextOf(PdfPage page)
    {
        var maps = new Dictionary<string, Dictionary<int, string>>();
        PdfDictionary fonts = page.Elements.GetDictionary("/Resources")!.Elements.GetDictionary("/Font")!;
        foreach (string name in fonts.Elements.Keys)
            maps[name] = MapOf(fonts.Elements.GetDictionary(name)!.Elements.GetDictionary("/ToUnicode")!);
        var text = new StringBuilder();
        Dictionary<int, string> map = [];
        var content = new StringBuilder();
        foreach (PdfContent part in page.Contents)
            content.Append(Encoding.Latin1.GetString(part.Stream!.UnfilteredValue)).Append('\n');
        foreach (Match token in Regex.Matches(content.ToString(), @"(/\S+) [\d.]+ Tf|<([0-9A-Fa-f\s]+)>\s*Tj"))
            if (token.Groups[1].Success)
                map = maps[token.Groups[1].Value];
            else
            {
                string hex = string.Concat(token.Groups[2].Value.Where(char.IsAsciiHexDigit));
                for (int k = 0; k + 4 <= hex.Length; k += 4)
                    text.Append(map[int.Parse(hex.AsSpan(k, 4), NumberStyles.HexNumber, CultureInfo.InvariantCulture)]);
                text.Append('\n');
            }
        return text.ToString();
    }

    private static Dictionary<int, string> MapOf(PdfDictionary table)
    {
        var map = new Dictionary<int, string>();
        string text = Encoding.Latin1.GetString(table.Stream!.UnfilteredValue);
        foreach (Match range in Regex.Matches(text, @"<([0-9A-Fa-f]{4})>\s*<([0-9A-Fa-f]{4})>\s*<([0-9A-Fa-f]{4})>"))
        {
            int Hex(int group) =>
                int.Parse(range.Groups[group].Value, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
            for (int code = Hex(1); code <= Hex(2); code++)
                map[code] = ((char)(Hex(3) + code - Hex(1))).ToString();
        }
        return map;
    }
}
