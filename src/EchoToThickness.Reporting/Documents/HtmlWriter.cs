using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace EchoToThickness.Reporting.Documents;

/// <summary>
/// A report as one HTML file that needs nothing else: pictures inside, no script, no address of another machine. The file is also well-formed
/// XML. All text is encoded.
/// </summary>
public static partial class HtmlWriter
{
    private const int ManyColumns = 8;

    /// <summary>Writes the file.</summary>
    /// <param name="document">The report.</param>
    /// <param name="template">The shell; null for the built-in one.</param>
    public static string Write(ReportDocument document, PageTemplate? template = null)
    {
        ArgumentNullException.ThrowIfNull(document);
        var body = new StringBuilder();
        var contents = new StringBuilder("<ol>\n");
        int headings = 0;
        foreach (ReportBlock block in document.Blocks)
        {
            if (block is HeadingBlock heading)
            {
                headings++;
                string level = heading.Level.ToString(CultureInfo.InvariantCulture);
                body.Append(
                    CultureInfo.InvariantCulture,
                    $"<h{level} id=\"part-{headings}\">{Text(heading.Text)}</h{level}>\n"
                );
                if (heading.Level == 2)
                    contents.Append(
                        CultureInfo.InvariantCulture,
                        $"<li><a href=\"#part-{headings}\">{Text(heading.Text)}</a></li>\n"
                    );
            }
            else
                Block(body, block);
        }
        contents.Append("</ol>");
        return (template ?? PageTemplate.BuiltIn).Fill(
            new Dictionary<string, string>
            {
                ["title"] = Text(document.Title),
                ["subtitle"] = Text(document.Subtitle),
                ["style"] = PageTemplate.Style.TrimEnd('\n'),
                ["contents"] = headings > 0 && body.Length > 0 ? contents.ToString() : "",
                ["body"] = body.ToString().TrimEnd('\n'),
                ["foot"] = Text(document.Foot),
            }
        );
    }

    private static void Block(StringBuilder html, ReportBlock block)
    {
        switch (block)
        {
            case ParagraphBlock paragraph:
                html.Append("<p>").Append(Text(paragraph.Text)).Append("</p>\n");
                break;
            case ListBlock list:
                Items(html, list.Items);
                break;
            case FactsBlock facts:
                html.Append("<dl>\n");
                foreach ((string name, string value) in facts.Facts)
                    html.Append("<dt>").Append(Text(name)).Append("</dt><dd>").Append(Text(value)).Append("</dd>\n");
                html.Append("</dl>\n");
                break;
            case TableBlock table:
                Table(html, table);
                break;
            case FigureBlock figure:
                html.Append("<figure><img alt=\"")
                    .Append(Text(figure.Alternative))
                    .Append("\" src=\"data:image/png;base64,")
                    .Append(Convert.ToBase64String(figure.Png))
                    .Append("\" /><figcaption>")
                    .Append(Text(figure.Caption))
                    .Append("</figcaption></figure>\n");
                break;
            case NoticeBlock notice:
                html.Append("<div class=\"notice\" role=\"note\">\n<p>").Append(Text(notice.Title)).Append("</p>\n");
                Items(html, notice.Items);
                html.Append("</div>\n");
                break;
            case LiteralBlock literal:
                html.Append("<pre>").Append(Text(literal.Text)).Append("</pre>\n");
                break;
            case SignatureBlock signatures:
                html.Append("<table class=\"signatures\"><caption>To be signed</caption>\n<thead><tr>");
                foreach (string column in (string[])["", "Name", "Qualification", "Signature", "Date"])
                    html.Append("<th scope=\"col\">").Append(column.Length == 0 ? "Role" : column).Append("</th>");
                html.Append("</tr></thead>\n<tbody>\n");
                foreach (string role in signatures.Roles)
                    html.Append("<tr><th scope=\"row\">")
                        .Append(Text(role))
                        .Append("</th><td></td><td></td><td></td><td></td></tr>\n");
                html.Append("</tbody></table>\n");
                break;
            default:
                throw new ArgumentException($"A block {block.GetType().Name} has no form in HTML.", nameof(block));
        }
    }

    private static void Items(StringBuilder html, IReadOnlyList<string> items)
    {
        html.Append("<ul>\n");
        foreach (string item in items)
            html.Append("<li>").Append(Text(item)).Append("</li>\n");
        html.Append("</ul>\n");
    }

    private static void Table(StringBuilder html, TableBlock table)
    {
        bool[] numbers =
        [
            .. Enumerable
                .Range(0, table.Columns.Count)
                .Select(c => c > 0 && table.Rows.Count > 0 && table.Rows.All(r => r[c].Length < 30 && IsNumber(r[c]))),
        ];
        html.Append("<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"")
            .Append(Text(table.Caption))
            .Append("\">\n");
        html.Append(table.Columns.Count > ManyColumns ? "<table class=\"many\">" : "<table>");
        html.Append("<caption>").Append(Text(table.Caption)).Append("</caption>\n<thead><tr>");
        for (int c = 0; c < table.Columns.Count; c++)
            html.Append(numbers[c] ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">")
                .Append(Text(table.Columns[c]))
                .Append("</th>");
        html.Append("</tr></thead>\n<tbody>\n");
        foreach (IReadOnlyList<string> row in table.Rows)
        {
            html.Append("<tr>");
            for (int c = 0; c < row.Count; c++)
                html.Append(
                        c == 0 ? "<th scope=\"row\">"
                        : numbers[c] ? "<td class=\"n\">"
                        : "<td>"
                    )
                    .Append(Text(row[c]))
                    .Append(c == 0 ? "</th>" : "</td>");
            html.Append("</tr>\n");
        }
        html.Append("</tbody></table>\n</div>\n");
    }

    private static bool IsNumber(string text) => text.Length == 0 || text is "none" or "-" || Numeric().IsMatch(text);

    /// <summary>Encodes text for an element or an attribute in double quotes; characters that XML forbids become the replacement character.</summary>
    internal static string Text(string text)
    {
        var encoded = new StringBuilder(text.Length + 16);
        for (int k = 0; k < text.Length; k++)
        {
            char c = text[k];
            if (char.IsHighSurrogate(c) && k + 1 < text.Length && char.IsLowSurrogate(text[k + 1]))
                encoded.Append(c).Append(text[++k]);
            else if ((c < ' ' && c is not ('\n' or '\t')) || char.IsSurrogate(c) || c >= '\uFFFE')
                encoded.Append('\uFFFD');
            else
                _ = c switch
                {
                    '&' => encoded.Append("&amp;"),
                    '<' => encoded.Append("&lt;"),
                    '>' => encoded.Append("&gt;"),
                    '"' => encoded.Append("&quot;"),
                    '\'' => encoded.Append("&#39;"),
                    _ => encoded.Append(c),
                };
        }
        return encoded.ToString();
    }

    [GeneratedRegex(@"^[<>+\-−±]? ?\d")]
    private static partial Regex Numeric();
}
