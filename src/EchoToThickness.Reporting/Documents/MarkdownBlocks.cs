using System.Text.RegularExpressions;

namespace EchoToThickness.Reporting.Documents;

/// <summary>The pages that the program itself writes, as blocks: headings, tables, lists, warnings and paragraphs.</summary>
internal static partial class MarkdownBlocks
{
    /// <summary>Reads a page; its own title is left out.</summary>
    public static IReadOnlyList<ReportBlock> Of(string markdown)
    {
        string[] lines = markdown.ReplaceLineEndings("\n").Split('\n');
        var blocks = new List<ReportBlock>();
        string heading = "Result";
        int level = 1;
        int tables = 0;
        for (int k = 0; k < lines.Length; )
        {
            string line = lines[k];
            if (line.StartsWith("# ", StringComparison.Ordinal))
                k++;
            else if (Heading().Match(line) is { Success: true } found)
            {
                level = Math.Clamp(found.Groups[1].Length, 2, Math.Min(level + 1, 4));
                heading = Plain(found.Groups[2].Value);
                tables = 0;
                blocks.Add(new HeadingBlock(level, heading));
                k++;
            }
            else if (line.StartsWith('|'))
            {
                string[] rows = [.. Take(lines, ref k, l => l.StartsWith('|'))];
                string[] columns = Cells(rows[0]);
                tables++;
                blocks.Add(
                    new TableBlock(
                        tables == 1 ? heading : ReportWords.Of($"{heading}, part {tables}"),
                        columns,
                        [.. rows.Skip(2).Select(r => Fit(Cells(r), columns.Length))]
                    )
                );
            }
            else if (line.StartsWith("- ", StringComparison.Ordinal))
                blocks.Add(
                    new ListBlock([
                        .. Take(lines, ref k, l => l.StartsWith("- ", StringComparison.Ordinal))
                            .Select(l => Plain(l[2..])),
                    ])
                );
            else if (line.StartsWith('>'))
                blocks.Add(
                    new NoticeBlock(
                        "Take note",
                        [
                            .. Take(lines, ref k, l => l.StartsWith('>'))
                                .Select(l => Plain(l[1..]))
                                .Where(l => l.Length > 0),
                        ]
                    )
                );
            else if (line.Trim().Length == 0 || line.StartsWith("![", StringComparison.Ordinal))
                k++;
            else
                blocks.Add(
                    new ParagraphBlock(
                        string.Join(
                            " ",
                            Take(
                                    lines,
                                    ref k,
                                    l =>
                                        l.Trim().Length > 0
                                        && !l.StartsWith('|')
                                        && !l.StartsWith('#')
                                        && !l.StartsWith('>')
                                        && !l.StartsWith("- ", StringComparison.Ordinal)
                                )
                                .Select(Plain)
                        )
                    )
                );
        }
        return blocks;
    }

    private static List<string> Take(string[] lines, ref int k, Func<string, bool> belongs)
    {
        var taken = new List<string> { lines[k++] };
        while (k < lines.Length && belongs(lines[k]))
            taken.Add(lines[k++]);
        return taken;
    }

    private static string[] Cells(string row) =>
        [
            .. Bar()
                .Split(row.Trim().TrimStart('|').TrimEnd('|'))
                .Select(c => Plain(c.Replace("\\|", "|", StringComparison.Ordinal))),
        ];

    private static string[] Fit(string[] cells, int count) =>
        [.. Enumerable.Range(0, count).Select(k => k < cells.Length ? cells[k] : "")];

    private static string Plain(string text) =>
        text.Replace("**", "", StringComparison.Ordinal).Replace("`", "", StringComparison.Ordinal).Trim();

    [GeneratedRegex(@"^(#{2,6}) +(.*)$")]
    private static partial Regex Heading();

    [GeneratedRegex(@"(?<!\\)\|")]
    private static partial Regex Bar();
}
