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
        ["EchoToThickness.Workbench"] =
        [
            "EchoToThickness",
            "EchoToThickness.Storage",
            "EchoToThickness.Studies",
            "EchoToThickness.Reporting",
        ],
        ["EchoToThickness.Cli"] =
        [
            "EchoToThickness",
            "EchoToThickness.Storage",
            "EchoToThickness.Simulation",
            "EchoToThickness.Studies",
            "EchoToThickness.Reporting",
            "EchoToThickness.Workbench",
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

    [Theory]
    [InlineData("EchoToThickness", "Folders of the library", 20)]
    [InlineData("EchoToThickness.Simulation", "Folders of the simulation", 2)]
    public void Folders_UseOnlyFoldersBeforeThem(string project, string heading, int leastUses)
    {
        string[] order = OrderInTheDocument(heading);
        string root = Repository.File("src", project);
        var import = new Regex($@"^using (?:static )?{Regex.Escape(project)}\.([A-Za-z]+)[.;]", RegexOptions.Multiline);
        var faults = new List<string>();
        int uses = 0;
        foreach (string path in Directory.GetFiles(root, "*.cs", SearchOption.AllDirectories))
        {
            string[] parts = Path.GetRelativePath(root, path).Split(Path.DirectorySeparatorChar);
            if (parts.Length == 1 || parts[0] is "obj" or "bin")
                continue;
            int place = Array.IndexOf(order, parts[0]);
            Assert.True(place >= 0, $"The folder {parts[0]} has no place in docs/architecture.md.");
            foreach (Match match in import.Matches(File.ReadAllText(path)))
            {
                uses++;
                int used = Array.IndexOf(order, match.Groups[1].Value);
                if (used < 0 || used > place)
                    faults.Add($"{parts[0]}/{Path.GetFileName(path)} uses {match.Groups[1].Value}");
            }
        }
        Assert.Empty(faults);
        Assert.True(uses > leastUses, "No imports were found: the pattern is wrong.");
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

    /// <summary>The numbered list under a heading; the document is the only place that holds the order.</summary>
    private static string[] OrderInTheDocument(string heading)
    {
        string section = File.ReadAllText(Repository.File("docs", "architecture.md"))
            .Split("\n## ")
            .Single(part => part.StartsWith(heading + "\n", StringComparison.Ordinal));
        string[] order = FolderLine().Matches(section).Select(m => m.Groups[1].Value).ToArray();
        Assert.True(order.Length > 5, $"docs/architecture.md lists no {heading}.");
        return order;
    }

    [GeneratedRegex(@"^\d+\. `([A-Za-z]+)/`", RegexOptions.Multiline)]
    private static partial Regex FolderLine();

    [GeneratedRegex(
        @"\b(?:File\.(?:Open|Read|Write|Create|Exists|Delete|Move)|FileStream|RandomAccess\.|Console\.|ScottPlot|DateTime\.(?:Now|UtcNow)|new Random\()"
    )]
    private static partial Regex Outside();
}
