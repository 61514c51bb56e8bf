using System.Text.RegularExpressions;
using EchoToThickness.Grids;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

public sealed partial class ReadmeTests(SmallScan scan) : IClassFixture<SmallScan>
{
    private static readonly string Text = File.ReadAllText(Repository.File("README.md"));

    [Fact]
    public void LibraryProgram_IsTheOneThatRunsHere()
    {
        string source = File.ReadAllText(
            Repository.File("tests", "EchoToThickness.EndToEnd.Tests", "LibraryExample.cs")
        );
        string[] lines = source
            .Split("// README begins")[1]
            .Split("// README ends")[0]
            .Split('\n')
            .Select(line => line.TrimEnd())
            .Skip(1)
            .SkipLast(1)
            .Select(line => line.Length > 8 ? line[8..] : "")
            .ToArray();
        Assert.True(lines.Length > 10);
        Assert.Contains(string.Join('\n', lines), Text.ReplaceLineEndings("\n"), StringComparison.Ordinal);

        GridSummary summary = LibraryExample.Run(scan.Stack, scan.In("library.h5"));
        // The pit is 2 mm deep in 8 mm of wall; its centre is a cell.
        Assert.Equal(6e-3, summary.MinimumThicknessMetres, 0.05e-3);
        Assert.True(File.Exists(scan.In("library.h5")));
    }

    [Fact]
    public void LocalLinksAndPictures_LeadSomewhere()
    {
        string[] targets = Link().Matches(Text).Select(m => m.Groups[1].Value).ToArray();
        Assert.NotEmpty(targets);
        Assert.All(
            targets.Where(t => !t.Contains("://", StringComparison.Ordinal)),
            target =>
                Assert.True(
                    File.Exists(Repository.File(target.Split('#')[0])) || Directory.Exists(Repository.File(target)),
                    target
                )
        );
    }

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Link();
}
