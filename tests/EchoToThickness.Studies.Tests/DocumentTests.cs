using EchoToThickness.Studies.StudyFiles;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>What the documents say is what the program reads.</summary>
public sealed class DocumentTests
{
    [Fact]
    public void ReferencePage_IsUpToDate()
    {
        string path = Path.Combine(Docs(), "study-reference.md");
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(path, StudyReference.Page());
        string found = File.ReadAllText(path).ReplaceLineEndings("\n");
        Assert.True(
            found == StudyReference.Page(),
            "docs/study-reference.md is stale: run the tests with ETT_WRITE_DOCS=1."
        );
    }

    [Fact]
    public void ExampleStudies_CanBeRun()
    {
        string[] studies =
        [
            .. Directory
                .GetFiles(Path.Combine(Docs(), "studies"), "*.toml")
                .Where(f => File.ReadAllText(f).Contains("[study]", StringComparison.Ordinal)),
        ];
        Assert.NotEmpty(studies);
        foreach (string study in studies)
        {
            StudyPlan plan = StudyPlan.Read(study, TestContext.Current.CancellationToken);
            Assert.True(plan.Methods.Count > 1, study);
            Assert.NotEmpty(plan.Points);
        }
    }

    private static string Docs()
    {
        for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
            if (Directory.Exists(Path.Combine(at, "docs", "studies")))
                return Path.Combine(at, "docs");
        throw new DirectoryNotFoundException("docs/studies is in no folder above " + AppContext.BaseDirectory);
    }
}
