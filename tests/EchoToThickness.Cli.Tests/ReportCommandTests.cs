using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Simulation;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using Xunit;

namespace EchoToThickness.Cli.Tests;

public sealed partial class ReportCommandTests(ReportCommandTests.Demo demo) : IClassFixture<ReportCommandTests.Demo>
{
    private const string HostileName = "<script>alert(1)</script> & \"bend\" {{body}}";

    [Fact]
    public void Report_Inspection_HasEveryPartInOrder()
    {
        XDocument page = Parse(demo.Html);
        Assert.Equal(
            [
                "Result in brief",
                "Component and acquisition",
                "Procedure",
                "Calibration and velocity",
                "Coverage",
                "Map and profiles",
                "Thin regions",
                "Statistics",
                "Metal without a measured wall",
                "Assessment",
                "Uncertainty budget",
                "Warnings, ranked by their effect",
                "Overrules and deviations",
                "Limits of the technique",
                "Software and hashes",
                "Signatures",
                "Appendix: procedure, every setting",
                "Appendix: plan of statistics",
            ],
            page.Descendants("h2").Select(h => h.Value)
        );
        Assert.Contains("Region 1", page.Descendants("h3").Select(h => h.Value));
        // Map, uncertainty, profiles, region, A-scan, histogram.
        Assert.True(page.Descendants("img").Count() >= 6);
        Assert.Contains("Candidate echoes", demo.Html, StringComparison.Ordinal);
        Assert.Equal(
            4,
            page.Descendants("table")
                .Single(t => (string?)t.Attribute("class") == "signatures")
                .Descendants("tbody")
                .Elements("tr")
                .Count()
        );
    }

    [Fact]
    public void Report_Inspection_EveryNumberOfTheJsonIsTraceable()
    {
        using var json = System.Text.Json.JsonDocument.Parse(File.ReadAllText(demo.In("wall.json")));
        var root = json.RootElement;
        double least = root.GetProperty("description")
            .GetProperty("minimum")
            .GetProperty("measured_metres")
            .GetDouble();
        Assert.Contains(
            (least * 1e3).ToString("F2", CultureInfo.InvariantCulture) + " mm ±",
            demo.Html,
            StringComparison.Ordinal
        );
        foreach (string hash in (string[])["grid_sha256", "procedure_sha256"])
            Assert.Contains(root.GetProperty(hash).GetString()!, demo.Html, StringComparison.Ordinal);
        Assert.Contains(
            root.GetProperty("stack_sha256").GetProperty("line-01").GetString()!,
            demo.Html,
            StringComparison.Ordinal
        );
        Assert.Contains(Sha256(demo.In("wall.json")), demo.Html, StringComparison.Ordinal);
        Assert.All(
            root.GetProperty("cautions").EnumerateArray(),
            caution => Assert.Contains(caution.GetString()!, Parse(demo.Html).Descendants("li").Select(i => i.Value))
        );
    }

    [Theory]
    [InlineData("inspection")]
    [InlineData("comparison")]
    public void Report_AnyKind_IsSelfContainedAccessibleAndEncoded(string kind)
    {
        string html = kind == "inspection" ? demo.Html : demo.ComparisonHtml;
        XDocument page = Parse(html);
        Assert.Equal("en", (string?)page.Root!.Attribute("lang"));
        Assert.Single(page.Descendants("h1"));
        Assert.Empty(page.Descendants("script"));
        Assert.Contains("<script>", page.Descendants("h1").Single().Value, StringComparison.Ordinal);
        Assert.DoesNotContain("://", html, StringComparison.Ordinal);
        Assert.All(
            page.Descendants().Attributes().Where(a => a.Name.LocalName is "src" or "href"),
            a =>
                Assert.True(
                    a.Value.StartsWith("data:image/png;base64,", StringComparison.Ordinal) || a.Value.StartsWith('#')
                )
        );
        Assert.DoesNotContain(
            page.Descendants().Attributes(),
            a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal)
        );
        Assert.All(page.Descendants("img"), i => Assert.True(((string)i.Attribute("alt")!).Length > 20));
        Assert.All(page.Descendants("table"), t => Assert.NotEqual("", t.Element("caption")!.Value));
        Assert.All(
            page.Descendants("th"),
            h => Assert.Contains((string?)h.Attribute("scope"), (string[])["col", "row"])
        );
        int level = 0;
        foreach (XElement heading in page.Descendants().Where(e => e.Name.LocalName is "h1" or "h2" or "h3" or "h4"))
        {
            int next = heading.Name.LocalName[1] - '0';
            Assert.True(next <= level + 1, heading.Value);
            level = next;
        }
        Assert.Equal(
            page.Descendants().Attributes("id").Count(),
            page.Descendants().Attributes("id").Select(a => a.Value).Distinct().Count()
        );
        string[] targets = [.. page.Descendants().Attributes("id").Select(a => "#" + a.Value)];
        Assert.All(page.Descendants("a"), a => Assert.Contains((string)a.Attribute("href")!, targets));
    }

    [Fact]
    public void Report_Again_GivesTheSameBytes()
    {
        string again = demo.In("again.html");
        Assert.Equal(
            ExitCode.Done,
            Run.Of("report", demo.In("wall.json"), "-o", again, "--component", HostileName).Code
        );
        Assert.Equal(demo.Html, File.ReadAllText(again));
    }

    [Fact]
    public void Report_OtherGridOrOtherStack_IsRefused()
    {
        string other = demo.In("other.h5");
        File.Copy(demo.In("grid.h5"), other, overwrite: true);
        File.AppendAllText(other, " ");
        Run grid = Run.Of("report", demo.In("wall.json"), "--grid", other, "-o", demo.In("x.html"));
        Assert.Equal(ExitCode.CouldNotRun, grid.Code);
        Assert.Contains("the statistics are about", grid.Words.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Run stack = Run.Of("report", demo.In("wall.json"), "--stack", other, "-o", demo.In("x.html"));
        Assert.Equal(ExitCode.CouldNotRun, stack.Code);
        Assert.Contains(
            "name the stack that was measured",
            stack.Words.ReplaceLineEndings(" "),
            StringComparison.Ordinal
        );
        Assert.False(File.Exists(demo.In("x.html")));
    }

    [Fact]
    public void Report_WithoutGrid_SaysWhatIsMissing()
    {
        string folder = Directory.CreateDirectory(demo.In("alone")).FullName;
        File.Copy(demo.In("wall.json"), Path.Combine(folder, "wall.json"), overwrite: true);
        Run run = Run.Of("report", Path.Combine(folder, "wall.json"));
        Assert.Equal(ExitCode.Done, run.Code);
        Assert.Contains("--grid", run.Words, StringComparison.Ordinal);
        string html = File.ReadAllText(Path.Combine(folder, "wall.html"));
        Assert.Contains("The map is not drawn: the grid is not at hand.", html, StringComparison.Ordinal);
        Assert.Contains("Not ranked: the grid is not at hand.", html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{}", "no result that a report can be made from")]
    [InlineData("[1", "The file is no JSON")]
    [InlineData("null", "no result that a report can be made from")]
    [InlineData("{\"format\": 3}", "no result that a report can be made from")]
    public void Report_OtherJson_IsRefusedInWords(string json, string words)
    {
        string path = demo.In("strange.json");
        File.WriteAllText(path, json);
        Run run = Run.Of("report", path);
        Assert.Equal(ExitCode.CouldNotRun, run.Code);
        Assert.Contains(words, run.Words.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.Contains("To fix:", run.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Report_OwnTemplate_IsFilledAndFaultsAreNamed()
    {
        string template = demo.In("own.html");
        File.WriteAllText(
            template,
            "<html lang=\"en\"><head><title>{{title}}</title></head><body><h1>own: {{ title }}</h1>{{body}}</body></html>"
        );
        string results = demo.In("study-results");
        Assert.Equal(
            ExitCode.Done,
            Run.Of("report", results, "--template", template, "-o", demo.In("own-report.html")).Code
        );
        XElement title = Parse(File.ReadAllText(demo.In("own-report.html"))).Descendants("h1").Single();
        Assert.StartsWith("own: ", title.Value, StringComparison.Ordinal);
        File.WriteAllText(template, "{{title}} {{bodi}}");
        Assert.Contains(
            "unknown placeholder '{{bodi}}'",
            Run.Of("report", results, "--template", template).Words.ReplaceLineEndings(" "),
            StringComparison.Ordinal
        );
        File.WriteAllText(template, "{{title}}");
        Assert.Contains(
            "no place for body",
            Run.Of("report", results, "--template", template).Words.ReplaceLineEndings(" "),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Report_Comparison_HoldsTablesFiguresAndHashes()
    {
        XDocument page = Parse(demo.ComparisonHtml);
        Assert.Equal(3, page.Descendants("img").Count());
        Assert.Contains("Paired tests against train", page.Descendants("h2").Select(h => h.Value));
        // The study's own name is hostile: it is text in the page.
        Assert.Contains("train, 1 % thick", page.Descendants("td").Select(c => c.Value));
        Assert.Contains(Sha256(demo.In("study-results/results.json")), demo.ComparisonHtml, StringComparison.Ordinal);
    }

    [Fact]
    public void Report_Pdf_OpensWithBookmarksAndPages()
    {
        using PdfDocument pdf = PdfReader.Open(demo.In("wall.pdf"), PdfDocumentOpenMode.Import);
        // Title, six figures, and two pages of settings at least.
        Assert.InRange(pdf.PageCount, 7, 20);
        Assert.Contains("<script>", pdf.Info.Title, StringComparison.Ordinal);
        Assert.All(pdf.Pages.Cast<PdfPage>(), page => Assert.Equal(595, page.Width.Point, 1.0));
    }

    /// <summary>WCAG 2.1, 1.4.3 and its definitions of relative luminance and contrast ratio.</summary>
    [Fact]
    public void Style_TextOnItsGround_HasContrast()
    {
        string css = StyleOf(demo.Html);
        var colours = Variable().Matches(css).ToDictionary(m => m.Groups[1].Value, m => m.Groups[2].Value);
        Match[] rules = Rule().Matches(css).ToArray();
        Assert.True(rules.Length >= 8, $"{rules.Length} rules with a colour and a ground");
        Assert.All(
            rules,
            rule =>
            {
                string text = Property(rule.Groups[1].Value, "color");
                string ground = Property(rule.Groups[1].Value, "background-color");
                double ratio = Contrast(colours[text], colours[ground]);
                Assert.True(ratio >= 4.5, $"{text} on {ground}: {ratio:F2}");
            }
        );
        Assert.Equal(21, Contrast("#000000", "#ffffff"), 1e-9);
    }

    private static string Property(string rule, string name) =>
        Regex.Match(rule, @"(?:^|[ ;])" + name + @": var\(--([a-z-]+)\)").Groups[1].Value;

    private static double Contrast(string one, string other)
    {
        double a = Luminance(one);
        double b = Luminance(other);
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    private static double Luminance(string hex)
    {
        double Part(int at)
        {
            double v = int.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
            return v <= 0.03928 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4);
        }
        return 0.2126 * Part(1) + 0.7152 * Part(3) + 0.0722 * Part(5);
    }

    private static string StyleOf(string html) =>
        html[html.IndexOf("<style>", StringComparison.Ordinal)..html.IndexOf("</style>", StringComparison.Ordinal)];

    private static XDocument Parse(string html) =>
        XDocument.Parse(html.Replace("<!DOCTYPE html>", "", StringComparison.Ordinal));

    private static string Sha256(string path) =>
        Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path)));

    [GeneratedRegex(@"--([a-z-]+): (#[0-9a-f]{6})")]
    private static partial Regex Variable();

    [GeneratedRegex(
        @"\{([^{}]*background-color: var[^{}]*[ ;]color: var[^{}]*|[^{}]*[ ;]color: var[^{}]*background-color: var[^{}]*)\}"
    )]
    private static partial Regex Rule();

    /// <summary>An invented scan measured and evaluated once, and a small comparison.</summary>
    public sealed class Demo : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("ett-cli-report").FullName;

        public Demo()
        {
            using (
                var source = new EchoTrainSource(
                    new EchoTrainScene
                    {
                        Name = "scan",
                        Scans = 40,
                        Beams = 24,
                        Samples = 900,
                        Seed = 9,
                        Wall = new WallMap { NominalMetres = 8e-3, Pits = [new Pit(0.02, 0.012, 0.012, 3e-3)] },
                    }
                )
            )
                EchoTrainStack.Write(source, In("scan.h5"));
            Check(Run.Of("measure", In("scan.h5"), "-o", In("grid.h5")));
            File.WriteAllText(
                In("plan.toml"),
                "thresholds = [\"7 mm\"]\n[regions]\nbelow = \"7.5 mm\"\n[extremes]\nself_test_fields = 0\n"
            );
            Check(Run.Of("statistics", In("grid.h5"), "--plan", In("plan.toml"), "-o", In("wall.json")));
            Check(Run.Of("report", In("wall.json"), "--component", HostileName, "--pdf", In("wall.pdf")));
            Html = File.ReadAllText(In("wall.html"));
            File.WriteAllText(
                In("study.toml"),
                """
                [study]
                name = "small <script>alert(1)</script>"
                repeats = 10
                [[plate]]
                [[sweep]]
                key = "snr"
                values = ["10 dB", "30 dB"]
                [[method]]
                name = "train"
                [[method]]
                name = "train, 1 % thick"
                set = ["velocity.value = 5979.2 m/s"]
                [report]
                bootstrap = 100
                """
            );
            Check(Run.Of("compare", In("study.toml"), "-o", In("study-results")));
            Check(Run.Of("report", In("study-results")));
            ComparisonHtml = File.ReadAllText(In("study-results/results.html"));
        }

        public string Html { get; }

        public string ComparisonHtml { get; }

        public string In(string name) => Path.Combine(_folder, name);

        public void Dispose() => Directory.Delete(_folder, recursive: true);

        private static void Check(Run run) => Assert.True(run.Code == ExitCode.Done, run.Words);
    }
}
