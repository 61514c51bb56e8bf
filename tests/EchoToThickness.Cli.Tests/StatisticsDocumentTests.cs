using System.Text;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using EchoToThickness.Reporting.Inspection;
using Xunit;

namespace EchoToThickness.Cli.Tests;

/// <summary>What the documents say of plan and result is what the program reads and writes.</summary>
public sealed class StatisticsDocumentTests
{
    [Fact]
    public void PlanReference_IsUpToDate() => Same("statistics-plan-reference.md", StatisticsPlan.ReferencePageText());

    [Fact]
    public void ResultReference_IsUpToDate() => Same("statistics-result-reference.md", ResultPage());

    private static void Same(string name, string expected)
    {
        string path = Path.Combine(Docs(), name);
        if (Environment.GetEnvironmentVariable("ETT_WRITE_DOCS") == "1")
            File.WriteAllText(path, expected);
        Assert.True(
            File.Exists(path) && File.ReadAllText(path).ReplaceLineEndings("\n") == expected,
            $"docs/{name} is stale: run the tests with ETT_WRITE_DOCS=1."
        );
    }

    /// <summary>The schema as a page; the descriptions are the XML documentation of the types that write the file.</summary>
    private static string ResultPage()
    {
        Dictionary<string, string> summaries = Summaries();
        JsonNode schema = StatisticsJson.SchemaNode(p =>
        {
            string type = (p.Type.IsGenericType ? p.Type.GetGenericTypeDefinition() : p.Type).FullName!;
            return summaries.GetValueOrDefault($"P:{type}.{p.Property}")
                ?? summaries.GetValueOrDefault($"T:{type}#{p.Property}");
        });
        var text = new StringBuilder(
            "# Result of statistics: reference\n\nThe JSON file that `ett statistics -o` writes. Names carry units; a number that does not exist is null; lengths are metres, areas square "
                + "metres, rates metres per year, pressures pascals. `ett statistics --schema` prints the same as JSON Schema. `[]` marks the entries of a list, `*` any key. This page is "
                + "made from the types that write the file: run the tests with `ETT_WRITE_DOCS=1` to write it anew.\n"
        );
        text.Append("\n| path | type | meaning |\n|---|---|---|\n");
        Rows(text, (JsonObject)schema, "");
        return text.ToString();
    }

    private static void Rows(StringBuilder text, JsonObject schema, string path)
    {
        if (schema["properties"] is JsonObject properties)
            foreach ((string name, JsonNode? node) in properties)
                Row(text, node, path.Length == 0 ? name : path + "." + name);
        if (schema["items"] is JsonObject items)
            Rows(text, items, path + "[]");
        if (schema["additionalProperties"] is JsonObject others)
            Rows(text, others, path + ".*");
    }

    private static void Row(StringBuilder text, JsonNode? node, string path)
    {
        if (node is not JsonObject schema)
        {
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"| `{path}` | any | |\n");
            return;
        }
        string words = schema["description"]?.GetValue<string>() ?? "";
        text.Append(
            System.Globalization.CultureInfo.InvariantCulture,
            $"| `{path}` | {TypeOf(schema)} | {words.Replace("|", "\\|", StringComparison.Ordinal)} |\n"
        );
        Rows(text, schema, path);
    }

    private static string TypeOf(JsonObject schema)
    {
        if (schema["$ref"]?.GetValue<string>() is { } reference)
            return "as `"
                + string.Join(
                        '.',
                        reference
                            .TrimStart('#')
                            .Split('/', StringSplitOptions.RemoveEmptyEntries)
                            .Where(s => s != "properties")
                            .Select(s =>
                                s == "items" ? "[]"
                                : s == "additionalProperties" ? "*"
                                : s
                            )
                    )
                    .Replace(".[]", "[]", StringComparison.Ordinal)
                + "`";
        if (schema["enum"] is JsonArray choices)
            return string.Join(", ", choices.Select(c => c is null ? "null" : $"`{c}`"));
        return schema["type"] is JsonArray types
            ? string.Join(" or ", types.Select(t => t!.ToString()))
            : schema["type"]?.ToString() ?? "any";
    }

    /// <summary>Summaries of members, and parameters of records as <c>T:type#parameter</c>.</summary>
    private static Dictionary<string, string> Summaries()
    {
        var found = new Dictionary<string, string>();
        foreach (string file in (string[])["EchoToThickness.xml", "EchoToThickness.Reporting.xml"])
        foreach (XElement member in XDocument.Load(Path.Combine(AppContext.BaseDirectory, file)).Descendants("member"))
        {
            string name = (string)member.Attribute("name")!;
            if (member.Element("summary") is { } summary)
                found[name] = Words(summary);
            if (name.StartsWith("T:", StringComparison.Ordinal))
                foreach (XElement parameter in member.Elements("param"))
                    found[$"{name}#{(string)parameter.Attribute("name")!}"] = Words(parameter);
        }
        return found;
    }

    private static string Words(XElement element)
    {
        var text = new StringBuilder();
        foreach (XNode node in element.Nodes())
            text.Append(
                node is XElement inner
                    ? ((string?)inner.Attribute("cref"))?.Split('.')[^1] ?? inner.Value
                    : node.ToString()
            );
        return string.Join(' ', text.ToString().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))
            .Replace("&lt;", "<", StringComparison.Ordinal)
            .Replace("&gt;", ">", StringComparison.Ordinal)
            .Replace("&amp;", "&", StringComparison.Ordinal);
    }

    private static string Docs()
    {
        for (string? at = AppContext.BaseDirectory; at is not null; at = Path.GetDirectoryName(at))
            if (Directory.Exists(Path.Combine(at, "docs", "theory")))
                return Path.Combine(at, "docs");
        throw new DirectoryNotFoundException("docs/theory is in no folder above " + AppContext.BaseDirectory);
    }
}
