using EchoToThickness.Reporting.Documents;
using Xunit;

namespace EchoToThickness.Reporting.Tests.Documents;

public sealed class StudyReportTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-study-report").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(
        "statement",
        "{\"name\":\"steps\",\"verdict\":\"not shown\",\"criteria\":[],\"sections\":[]}",
        ReportKind.Validation
    )]
    [InlineData("results", "{\"study\":\"steps\",\"rule_sets\":[],\"chosen\":\"abc\"}", ReportKind.Tuning)]
    [InlineData("results", "{\"name\":\"steps\",\"methods\":[],\"paired_tests\":[]}", ReportKind.Comparison)]
    public void Build_EachKind_IsToldFromItsJsonAndHoldsItsPage(string file, string json, ReportKind kind)
    {
        File.WriteAllText(Path.Combine(_folder, file + ".json"), json);
        File.WriteAllText(
            Path.Combine(_folder, file + ".md"),
            "# steps\n\n**one** line\ntwo\n\n### Deep\n\n| a | b |\n|---|---:|\n| x \\| y | 1 |\n| z |\n\n> Warning: w\n>\n\n- item\n"
        );
        ReportRun run = ReportRun.Open(_folder);
        Assert.Equal(kind, run.Kind);
        ReportDocument report = StudyReport.Build(run, null, "1.0");
        Assert.Equal("steps", report.Title);
        Assert.Contains(new ParagraphBlock("one line two"), report.Blocks);
        // A jump from level 1 to 3 would skip a level.
        Assert.Contains(new HeadingBlock(2, "Deep"), report.Blocks);
        TableBlock table = report.Blocks.OfType<TableBlock>().Single();
        Assert.Equal("Deep", table.Caption);
        Assert.Equal(
            [
                ["x | y", "1"],
                ["z", ""],
            ],
            table.Rows
        );
        Assert.Equal(["Warning: w"], report.Blocks.OfType<NoticeBlock>().Single(n => n.Title == "Take note").Items);
        Assert.IsType<SignatureBlock>(report.Blocks[^1]);
        Assert.Equal(kind == ReportKind.Validation, report.Blocks.OfType<NoticeBlock>().Any(n => n.Title == "Verdict"));
    }

    [Fact]
    public void Build_PageMissing_SaysWhichAndHow()
    {
        string json = Path.Combine(_folder, "results.json");
        File.WriteAllText(json, "{\"name\":\"steps\",\"methods\":[],\"paired_tests\":[]}");
        ReportException error = Assert.Throws<ReportException>(() =>
            StudyReport.Build(ReportRun.Open(json), null, "1.0")
        );
        Assert.Contains("results.md", error.Message, StringComparison.Ordinal);
        Assert.Contains("To fix:", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Open_TwoResultsInAFolder_AsksForOne()
    {
        foreach (string name in (string[])["a.json", "b.json"])
            File.WriteAllText(Path.Combine(_folder, name), "{\"format\":\"echo-to-thickness statistics\"}");
        File.WriteAllText(Path.Combine(_folder, "c.json"), "{\"other\":1}");
        Assert.Contains(
            "a.json, b.json",
            Assert.Throws<ReportException>(() => ReportRun.Open(_folder)).Message,
            StringComparison.Ordinal
        );
    }
}
