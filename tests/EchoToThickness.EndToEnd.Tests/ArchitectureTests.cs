using System.Text.RegularExpressions;
using System.Xml.Linq;
using Xunit;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The arrow of imports of docs/architecture.md: projects and folders use only what stands before them.</summary>
public sealed partial class ArchitectureTests
{
    private static readonly Dictionary<string, string[]> Projects = new()
    {
        ["EchoToThickness"] = [],
        ["EchoToThickness.Storage"] = ["EchoToThickness"],
        ["EchoToThickness.Simulation"] = ["EchoToThickness", "EchoToThickness.Storage"],
        ["EchoToThickness.Studies"] = ["EchoToThickness", "EchoToThickness.Storage", "EchoToThickness.Simulation"],
        ["EchoToThickness.Reporting"] = ["EchoToThickness", "EchoToThickness.Storage", "EchoToThickness.Studies"],
        ["EchoToThickness.Cli"] =
        [
            "EchoToThickness",
            "EchoToThickness.Storage",
            "EchoToThickness.Simulation",
            "EchoToThickness.Studies",
            "EchoToThickness.Reporting",
        ],
    };

    [Fact]
    public void Projects_ReferenceOnlyProjectsBeforeThem()
    {
        foreach (string folder in Directory.GetDirectories(Repository.File("src")))
        {
            string name = Path.GetFileName(folder);
            Assert.True(Projects.ContainsKey(name), $"{name} has no place in the order of projects.");
            IEnumerable<string> references = XDocument
                .Load(Path.Combine(folder, name + ".csproj"))
                .Descendants("ProjectReference")
                .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value));
            Assert.All(references, reference => Assert.Contains(reference, Projects[name]));
        }
    }

    [Fact]
    public void Folders_OfTheLibrary_UseOnlyFoldersBeforeThem()
    {
        string[] order = OrderInTheDocument();
        string library = Repository.File("src", "EchoToThickness");
        var faults = new List<string>();
        int uses = 0;
        foreach (string path in Directory.GetFiles(library, "*.cs", SearchOption.AllDirectories))
        {
            string folder = Path.GetRelativePath(library, path).Split(Path.DirectorySeparatorChar)[0];
            if (folder is "obj" or "bin")
                continue;
            int place = Array.IndexOf(order, folder);
            Assert.True(place >= 0, $"The folder {folder} has no place in docs/architecture.md.");
            foreach (Match match in Import().Matches(File.ReadAllText(path)))
            {
                uses++;
                int used = Array.IndexOf(order, match.Groups[1].Value);
                if (used < 0 || used > place)
                    faults.Add($"{folder}/{Path.GetFileName(path)} uses {match.Groups[1].Value}");
            }
        }
        Assert.Empty(faults);
        Assert.True(uses > 20, "No imports were found: the pattern is wrong.");
    }

    [Fact]
    public void Library_HoldsNoFilesPlotsOrConsole()
    {
        string library = Repository.File("src", "EchoToThickness");
        string[] faults = Directory
            .GetFiles(library, "*.cs", SearchOption.AllDirectories)
            .Where(path =>
                !path.Contains(
                    $"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}",
                    StringComparison.Ordinal
                )
            )
            .Where(path => Outside().IsMatch(File.ReadAllText(path)))
            .Select(path => Path.GetFileName(path))
            .ToArray();
        Assert.Empty(faults);
    }

    /// <summary>The numbered list under "Folders of the library"; the document is the only place that holds the order.</summary>
    private static string[] OrderInTheDocument()
    {
        string[] order = FolderLine()
            .Matches(File.ReadAllText(Repository.File("docs", "architecture.md")))
            .Select(m => m.Groups[1].Value)
            .ToArray();
        Assert.True(order.Length > 10, "docs/architecture.md lists no folders.");
        return order;
    }

    [GeneratedRegex(@"^using (?:static )?EchoToThickness\.([A-Za-z]+)[.;]", RegexOptions.Multiline)]
    private static partial Regex Import();

    [GeneratedRegex(@"^\d+\. `([A-Za-z]+)/`", RegexOptions.Multiline)]
    private static partial Regex FolderLine();

    [GeneratedRegex(
        @"\b(?:File\.(?:Open|Read|Write|Create|Exists|Delete|Move)|FileStream|RandomAccess\.|Console\.|ScottPlot|DateTime\.(?:Now|UtcNow)|new Random\()"
    )]
    private static partial Regex Outside();
}
