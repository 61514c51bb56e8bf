using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace EchoToThickness.Reporting.Documents;

/// <summary>The report of a comparison, a search or a validation: what its page says, its figures, what it rests on, who signs.</summary>
public static class StudyReport
{
    private const int MostFigures = 24;
    private const long LongestPageBytes = 1L << 26;

    /// <summary>Builds the report.</summary>
    /// <param name="run">The run.</param>
    /// <param name="title">Title in place of the study's name; null for that.</param>
    /// <param name="programVersion">Version of the program that writes the report.</param>
    /// <exception cref="ReportException">The page of the run is missing.</exception>
    public static ReportDocument Build(ReportRun run, string? title, string programVersion)
    {
        ArgumentNullException.ThrowIfNull(run);
        var root = new RunJson(run.Root);
        string page = Path.ChangeExtension(run.JsonPath, ".md");
        if (!File.Exists(page) || new FileInfo(page).Length > LongestPageBytes)
            throw new ReportException(
                "The page of the run is missing or larger than 64 MB.",
                page,
                "run the command again; finished work is found and the page written anew."
            );
        string name = root["name"].Text is { Length: > 0 } own ? own : root["study"].Text.Split('\n')[0];
        var blocks = new List<ReportBlock>();
        if (root["verdict"].Text is { Length: > 0 } verdict)
            blocks.Add(new NoticeBlock("Verdict", [ReportWords.Capital(verdict) + "."]));
        if (root["warnings"].Texts is { Count: > 0 } warnings)
            blocks.Add(new NoticeBlock("Warnings", warnings));
        blocks.Add(new HeadingBlock(2, "Statement"));
        blocks.AddRange(MarkdownBlocks.Of(File.ReadAllText(page, Encoding.UTF8)));
        Figures(blocks, run);
        Cautions(blocks, run.Kind);
        Basis(blocks, run, root, page, programVersion);
        blocks.Add(new HeadingBlock(2, "Signatures"));
        blocks.Add(new SignatureBlock(["Studied by", "Reviewed by", "Accepted by"]));
        return new ReportDocument
        {
            Title = title ?? name,
            Subtitle = run.Kind switch
            {
                ReportKind.Tuning => "Report of a search for a procedure",
                ReportKind.Validation => "Report of a validation on known walls",
                _ => "Report of a comparison of methods",
            },
            Foot = "EchoToThickness " + programVersion,
            Blocks = blocks,
        };
    }

    private static void Figures(List<ReportBlock> blocks, ReportRun run)
    {
        string[] files = [.. Directory.EnumerateFiles(run.Folder, "*.png").Order(StringComparer.Ordinal)];
        if (files.Length == 0)
            return;
        blocks.Add(new HeadingBlock(2, "Figures"));
        foreach (string file in files.Take(MostFigures))
        {
            string words = ReportWords.Capital(Path.GetFileNameWithoutExtension(file).Replace('-', ' '));
            blocks.Add(
                new FigureBlock(
                    File.ReadAllBytes(file),
                    $"Figure of the run: {words}. Its numbers stand in the tables of this report.",
                    $"{words} ({Path.GetFileName(file)})."
                )
            );
        }
        if (files.Length > MostFigures)
            blocks.Add(
                new ParagraphBlock(
                    ReportWords.Of($"{files.Length - MostFigures} further figures lie in the folder of the run.")
                )
            );
    }

    private static void Cautions(List<ReportBlock> blocks, ReportKind kind)
    {
        blocks.Add(new HeadingBlock(2, "What this report does not say"));
        blocks.Add(
            new NoticeBlock(
                "Cautions",
                kind switch
                {
                    ReportKind.Tuning =>
                    [
                        "The procedure was chosen on the records named here. How well it does on others is told by records that took no part in the choice.",
                        "Where no wall was known the figures are self-consistency, which says nothing about accuracy.",
                    ],
                    ReportKind.Validation =>
                    [
                        "The statement holds for walls, surfaces, equipment and settings like those that were scanned, and for the procedure whose SHA-256 is given; a changed setting is another procedure.",
                        "It is a calculation and qualifies neither a procedure nor a person nor an instrument.",
                    ],
                    _ =>
                    [
                        "The ranking holds for the records and the cells named here. Differences within the stated intervals are no differences.",
                        "Simulated records hold only the troubles that were put into them.",
                    ],
                }
            )
        );
    }

    private static void Basis(List<ReportBlock> blocks, ReportRun run, RunJson root, string page, string programVersion)
    {
        blocks.Add(new HeadingBlock(2, "Software and hashes"));
        var facts = new List<(string, string)>
        {
            ("Written by", "EchoToThickness " + programVersion),
            ("Study, SHA-256", Or(root["study_sha256"].Text)),
        };
        if (root["procedure_sha256"].Text is { Length: > 0 } procedure)
            facts.Add(("Procedure, SHA-256", procedure));
        if (root["procedure_was_frozen"].Exists)
            facts.Add(("Procedure was frozen before", root["procedure_was_frozen"].Truth ? "yes" : "no"));
        if (root["chosen"].Text is { Length: > 0 } chosen)
            facts.Add(("Chosen procedure, SHA-256", chosen));
        foreach (RunJson method in root["methods"].Items)
            facts.Add(($"Procedure of {method["name"].Text}, SHA-256", method["procedure_sha256"].Text));
        facts.Add((Path.GetFileName(run.JsonPath) + ", SHA-256", Sha256(run.JsonPath)));
        facts.Add((Path.GetFileName(page) + ", SHA-256", Sha256(page)));
        blocks.Add(new FactsBlock(facts));
        string study = root["study"].Text;
        if (!study.Contains('\n', StringComparison.Ordinal))
            return;
        blocks.Add(new HeadingBlock(2, "The study, every setting"));
        blocks.Add(new LiteralBlock(study));
    }

    internal static string Sha256(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    private static string Or(string text) => text.Length > 0 ? text : "not recorded";
}
