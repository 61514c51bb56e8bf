using EchoToThickness.Storage.Layouts;
using Xunit;

namespace EchoToThickness.Storage.Tests.Foreign;

/// <summary>docs/layout-maps.md lists the keys that the parser reads, and its example parses.</summary>
public sealed class LayoutReferenceTests
{
    private static readonly string Page = Path.Combine(ForeignFixtures.Root, "..", "docs", "layout-maps.md");

    [Fact]
    public void Tables_DocsPage_IsCurrent()
    {
        string text = File.ReadAllText(Page).ReplaceLineEndings("\n");
        int at = text.IndexOf(LayoutReference.Marker, StringComparison.Ordinal);
        Assert.True(at > 0, "docs/layout-maps.md lacks the marker line.");
        string head = text[..(at + LayoutReference.Marker.Length)] + "\n";
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(Page, text = head + LayoutReference.Tables());
        Assert.True(
            text == head + LayoutReference.Tables(),
            "docs/layout-maps.md is stale: run the tests with ETT_WRITE_DOCS=1."
        );
    }

    [Fact]
    public void Example_DocsPage_Parses()
    {
        string text = File.ReadAllText(Page).ReplaceLineEndings("\n");
        int from = text.IndexOf("```toml\n", StringComparison.Ordinal) + 8;
        LayoutMap map = LayoutFile.Parse(text[from..text.IndexOf("```", from, StringComparison.Ordinal)], "docs").Value;
        Assert.Equal(2048, map.Samples.ZeroCounts);
        Assert.Equal([StoredAxis.Sample, StoredAxis.Beam, StoredAxis.Scan], map.Samples.Axes);
    }
}
