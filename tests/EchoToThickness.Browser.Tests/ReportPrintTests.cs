using System.Text.Json.Nodes;
using EchoToThickness.Browser.Tests.Driver;
using EchoToThickness.Reporting.Documents;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using Xunit;

namespace EchoToThickness.Browser.Tests;

/// <summary>A report in a real browser: nothing is fetched, nothing runs, nothing sticks out, and it prints on A4.</summary>
[Collection(RealBrowser.OnePageAtATime)]
public sealed class ReportPrintTests(RealBrowser browser)
{
    [Fact]
    public async Task Report_OpenedAndPrinted_IsWholeAndQuiet()
    {
        string[] columns = [.. Enumerable.Range(0, 12).Select(c => $"column {c}")];
        var document = new ReportDocument
        {
            Title = "A <script>document.title = 'run'</script> report",
            Subtitle = "of a test",
            Foot = "foot",
            Blocks =
            [
                new HeadingBlock(2, "Table"),
                new TableBlock(
                    "many rows",
                    columns,
                    [.. Enumerable.Range(0, 90).Select(r => columns.Select(c => $"{c} row {r}").ToArray())]
                ),
                new HeadingBlock(2, "Signatures"),
                new SignatureBlock(ReportDocument.Signatures),
            ],
        };
        string path = Path.Combine(browser.Folder, "report.html");
        await File.WriteAllTextAsync(path, HtmlWriter.Write(document));
        await using BrowserPage page = await browser.OpenFileAsync(path);
        await page.WaitAsync("document.readyState === 'complete'");
        Assert.Equal(document.Title, await page.RunAsync<string>("document.title"));
        Assert.Equal(0, await page.RunAsync<int>("document.documentElement.scrollWidth - innerWidth"));
        Assert.Empty(page.Complaints);
        JsonNode printed = await page.SendAsync("Page.printToPDF", new JsonObject { ["preferCSSPageSize"] = true });
        using var stream = new MemoryStream(Convert.FromBase64String((string)printed["data"]!));
        using PdfDocument pdf = PdfReader.Open(stream, PdfDocumentOpenMode.Import);
        Assert.InRange(pdf.PageCount, 2, 12);
        // A4: 210 mm by 297 mm.
        Assert.Equal(210, pdf.Pages[0].Width.Millimeter, 0.5);
        Assert.Equal(297, pdf.Pages[0].Height.Millimeter, 0.5);
    }
}
