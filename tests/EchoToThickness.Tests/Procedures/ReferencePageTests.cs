using EchoToThickness.Procedures;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

public sealed class ReferencePageTests
{
    private static readonly string Page = RepositoryFiles.PathOf("docs", "procedure-reference.md");

    /// <summary>Only when a person asks for it, the page is written; the comparison below then holds by construction.</summary>
    [Fact]
    public void OfProcedure_PageInTheRepository_IsUpToDate()
    {
        string expected = ReferencePage.OfProcedure();
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(Page, expected);
        string found = File.ReadAllText(Page).ReplaceLineEndings("\n");
        Assert.True(found == expected, "docs/procedure-reference.md is stale: run the tests with ETT_WRITE_DOCS=1.");
    }

    [Fact]
    public void OfProcedure_Page_NamesEveryKeyAndWord()
    {
        string page = ReferencePage.OfProcedure();
        Assert.Contains("## `[[gate.level_by_depth]]`", page, StringComparison.Ordinal);
        Assert.Contains("| `taps` | whole number, 3 to 511 | `63` |", page, StringComparison.Ordinal);
        Assert.Contains("| `level` | level: `\"30 % of full scale\"`", page, StringComparison.Ordinal);
        Assert.Contains("- `\"zero-crossing\"`: ", page, StringComparison.Ordinal);
        Assert.Contains("| `thickness` | length, at least 0 mm | required |", page, StringComparison.Ordinal);
    }
}
