using EchoToThickness.Components;
using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Documents;

/// <summary>The report of an inspection, from the JSON of <c>ett statistics</c> and, as far as they are at hand, the grid and the stack.</summary>
public static class InspectionReport
{
    /// <summary>Builds the report.</summary>
    /// <param name="run">A run of statistics.</param>
    /// <param name="sources">Grid, stack and words of the reader.</param>
    /// <param name="programVersion">Version of the program that writes the report.</param>
    /// <exception cref="ReportException">The grid is another one, or the JSON does not replay from it.</exception>
    public static ReportDocument Build(ReportRun run, InspectionSources sources, string programVersion)
    {
        ArgumentNullException.ThrowIfNull(run);
        ArgumentNullException.ThrowIfNull(sources);
        var root = new RunJson(run.Root);
        using InspectionMap? map = sources.GridPath is { } path ? InspectionMap.Open(run, path) : null;
        Procedure? procedure = map?.Procedure;
        var blocks = new List<ReportBlock>();
        InspectionHead.Add(blocks, root, map, sources);
        InspectionBody.Add(blocks, root, map, sources);
        InspectionRest.Add(blocks, root, map, sources);
        blocks.Add(new HeadingBlock(2, "Software and hashes"));
        blocks.Add(new FactsBlock(Hashes(run, root, map, programVersion)));
        blocks.Add(new HeadingBlock(2, "Signatures"));
        blocks.Add(
            new ParagraphBlock(
                "Who signs takes over the statements of this report after having read the cautions and the ranked warnings. The program signs nothing."
            )
        );
        blocks.Add(new SignatureBlock(ReportDocument.Signatures));
        if (procedure is not null)
        {
            blocks.Add(new HeadingBlock(2, "Appendix: procedure, every setting"));
            blocks.Add(SettingWords.Table("Every setting of the procedure", procedure));
        }
        blocks.Add(new HeadingBlock(2, "Appendix: plan of statistics"));
        blocks.Add(new LiteralBlock(root["plan"].Text));
        return new ReportDocument
        {
            Title =
                sources.Title
                ?? (
                    sources.ComponentName is { Length: > 0 } name
                        ? "Wall thickness of " + name
                        : "Wall thickness from " + root["grid"].Text
                ),
            Subtitle = "Inspection report. " + ReportWords.Capital(root["component"].Text) + ".",
            Foot = "EchoToThickness " + programVersion,
            Blocks = blocks,
        };
    }

    private static List<(string, string)> Hashes(ReportRun run, RunJson root, InspectionMap? map, string programVersion)
    {
        var facts = new List<(string, string)>
        {
            ("Report written by", "EchoToThickness " + programVersion),
            ("Statistics by", "EchoToThickness " + root["program_version"].Text),
        };
        if (map is not null)
            facts.Add(("Grid measured by", "EchoToThickness " + map.Facts.ProgramVersion));
        foreach (
            IGrouping<string, string> stack in root["stack_sha256"].Members.GroupBy(m => m.Value.Text, m => m.Name)
        )
            facts.Add(
                ("Stack, SHA-256 (" + string.Join(", ", stack) + ")", stack.Key.Length > 0 ? stack.Key : "not recorded")
            );
        facts.Add(("Procedure, SHA-256", root["procedure_sha256"].Text));
        facts.Add(($"Grid {root["grid"].Text}, SHA-256", root["grid_sha256"].Text));
        facts.Add(($"Statistics {Path.GetFileName(run.JsonPath)}, SHA-256", StudyReport.Sha256(run.JsonPath)));
        return facts;
    }
}
