using System.Text;

namespace EchoToThickness.Reporting.Explain;

/// <summary>Plain-text layout: wrapping and two-column lists.</summary>
public static class TextLayout
{
    /// <summary>Columns that text is wrapped to; the same on every terminal, so that logs and documents look alike.</summary>
    public const int Columns = 80;

    /// <summary>Breaks text at blanks so that no line is longer than a width; a word longer than that stays whole.</summary>
    /// <param name="text">Text; line breaks are kept.</param>
    /// <param name="columns">Longest line.</param>
    /// <param name="indent">Blanks before every line.</param>
    /// <param name="hanging">Further blanks before every line but the first of a paragraph.</param>
    /// <returns>Lines, each ended by a line feed.</returns>
    public static string Wrap(string text, int columns, int indent = 0, int hanging = 0)
    {
        ArgumentNullException.ThrowIfNull(text);
        var lines = new StringBuilder();
        foreach (string paragraph in text.Split('\n'))
        {
            string line = "";
            int margin = indent;
            foreach (string word in paragraph.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                if (line.Length > 0 && margin + line.Length + 1 + word.Length > columns)
                {
                    lines.Append(' ', margin).Append(line).Append('\n');
                    line = "";
                    margin = indent + hanging;
                }
                line += line.Length > 0 ? " " + word : word;
            }
            lines.Append(' ', line.Length > 0 ? margin : 0).Append(line).Append('\n');
        }
        return lines.ToString();
    }

    /// <summary>A list of terms with explanations beside them.</summary>
    /// <param name="rows">Term and explanation.</param>
    /// <param name="columns">Longest line.</param>
    /// <param name="indent">Blanks before every line.</param>
    /// <param name="widest">Terms longer than this stand on a line of their own.</param>
    public static string List(
        IEnumerable<(string Term, string Text)> rows,
        int columns,
        int indent = 2,
        int widest = 26
    )
    {
        (string Term, string Text)[] all = rows.ToArray();
        int term = all.Where(r => r.Term.Length <= widest).Select(r => r.Term.Length).DefaultIfEmpty(0).Max();
        int start = indent + term + 2;
        var lines = new StringBuilder();
        foreach ((string name, string text) in all)
        {
            string wrapped = Wrap(text, columns, start);
            if (name.Length <= term)
                lines
                    .Append((new string(' ', indent) + name).PadRight(start))
                    .Append(wrapped.AsSpan(Math.Min(start, wrapped.Length - 1)));
            else
                lines.Append(' ', indent).Append(name).Append('\n').Append(wrapped);
        }
        return lines.ToString();
    }
}
