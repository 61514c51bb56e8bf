using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class SceneReferenceTests
{
    private static readonly string Page = PathOf("docs", "scene-reference.md");

    /// <summary>Only when a person asks for it, the page is written; the comparison below then holds by construction.</summary>
    [Fact]
    public void Page_InTheRepository_IsUpToDate()
    {
        string expected = SceneReference.Page();
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(Page, expected);
        string found = File.ReadAllText(Page).ReplaceLineEndings("\n");
        Assert.True(found == expected, "docs/scene-reference.md is stale: run the tests with ETT_WRITE_DOCS=1.");
    }

    [Fact]
    public void Page_NamesEverySectionAndWord()
    {
        string page = SceneReference.Page();
        foreach (
            string section in new[]
            {
                "[component]",
                "[[wall.cluster]]",
                "[[surface.paint]]",
                "[[coupling.bubble]]",
                "[[fault]]",
            }
        )
            Assert.Contains($"## `{section}`", page, StringComparison.Ordinal);
        Assert.Contains("`\"duplicate line\"`", page, StringComparison.Ordinal);
    }

    private static string PathOf(params string[] parts)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "EchoToThickness.sln")))
                return Path.Combine([folder.FullName, .. parts]);
        throw new DirectoryNotFoundException("The tests must run from inside the repository.");
    }
}
