using System.Text.RegularExpressions;

namespace EchoToThickness.Reporting.Documents;

/// <summary>
/// The shell of an HTML report: text with the placeholders <c>{{title}}</c>, <c>{{subtitle}}</c>, <c>{{style}}</c>, <c>{{contents}}</c>,
/// <c>{{body}}</c> and <c>{{foot}}</c>. Values are encoded before they are put in; a placeholder in a value stays text.
/// </summary>
public sealed partial class PageTemplate
{
    private static readonly string[] Known = ["title", "subtitle", "style", "contents", "body", "foot"];
    private readonly string _text;

    private PageTemplate(string text) => _text = text;

    /// <summary>The template inside the program.</summary>
    public static string BuiltInText => Resource("report-template.html");

    /// <summary>The style sheet inside the program.</summary>
    public static string Style => Resource("report-style.css");

    /// <summary>The template inside the program, ready for use.</summary>
    public static PageTemplate BuiltIn => Parse(BuiltInText, "built-in template");

    /// <summary>Reads a template.</summary>
    /// <param name="text">HTML with placeholders.</param>
    /// <param name="name">File, for messages.</param>
    /// <exception cref="ReportException">An unknown placeholder, or no place for the title or the body.</exception>
    public static PageTemplate Parse(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] used = [.. Placeholder().Matches(text).Select(m => m.Groups[1].Value)];
        if (used.FirstOrDefault(u => !Known.Contains(u)) is { } unknown)
            throw new ReportException(
                $"The template has an unknown placeholder '{{{{{unknown}}}}}'.",
                name,
                "use " + string.Join(", ", Known.Select(k => "{{" + k + "}}")) + "."
            );
        foreach (string needed in (string[])["title", "body"])
            if (!used.Contains(needed))
                throw new ReportException(
                    $"The template has no place for {needed}.",
                    name,
                    $"write {{{{{needed}}}}} where it shall stand; 'ett report --print-template' shows the built-in one."
                );
        return new PageTemplate(text);
    }

    internal string Fill(IReadOnlyDictionary<string, string> values) =>
        Placeholder().Replace(_text, match => values[match.Groups[1].Value]);

    private static string Resource(string name)
    {
        using Stream stream =
            typeof(PageTemplate).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The resource {name} is missing in the program.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }

    [GeneratedRegex(@"\{\{ *([A-Za-z0-9_-]*) *\}\}")]
    private static partial Regex Placeholder();
}
