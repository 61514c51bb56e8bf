using System.Text.Json;

namespace EchoToThickness.Reporting.Documents;

/// <summary>A finished run that a report is made from: its JSON file and the folder that holds its pages and figures.</summary>
public sealed record ReportRun
{
    private const long LongestBytes = 1L << 28;
    private static readonly string[] Names = ["statement.json", "results.json"];

    private ReportRun(ReportKind kind, string jsonPath, JsonElement root)
    {
        Kind = kind;
        JsonPath = jsonPath;
        Root = root;
    }

    /// <summary>Kind, told from the JSON.</summary>
    public ReportKind Kind { get; }

    /// <summary>The JSON file.</summary>
    public string JsonPath { get; }

    /// <summary>The folder it lies in.</summary>
    public string Folder => Path.GetDirectoryName(Path.GetFullPath(JsonPath)) ?? ".";

    /// <summary>Inspection: the grid's file name without folder; empty for other kinds.</summary>
    public string GridName => Kind == ReportKind.Inspection ? Path.GetFileName(new RunJson(Root)["grid"].Text) : "";

    internal JsonElement Root { get; }

    /// <summary>Opens a run.</summary>
    /// <param name="path">A JSON file, or a folder that holds one.</param>
    /// <exception cref="ReportException">Nothing there that a report can be made from.</exception>
    public static ReportRun Open(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (File.Exists(path))
            return Read(path) ?? throw Unknown(path);
        if (!Directory.Exists(path))
            throw new ReportException(
                "There is no such run.",
                path,
                "name the JSON file of 'ett statistics', or the folder of results of 'ett compare', 'tune' or 'validate'."
            );
        foreach (string name in Names.Select(n => Path.Combine(path, n)).Where(File.Exists))
            return Read(name) ?? throw Unknown(name);
        ReportRun[] found =
        [
            .. Directory.EnumerateFiles(path, "*.json").Order(StringComparer.Ordinal).Select(Try).OfType<ReportRun>(),
        ];
        return found.Length switch
        {
            1 => found[0],
            0 => throw Unknown(path),
            _ => throw new ReportException(
                $"The folder holds {found.Length} results.",
                path,
                "name one of " + string.Join(", ", found.Take(10).Select(f => Path.GetFileName(f.JsonPath))) + "."
            ),
        };
    }

    private static ReportRun? Try(string path)
    {
        try
        {
            return Read(path);
        }
        catch (ReportException)
        {
            // A folder may hold other JSON files; only those of a known kind count.
            return null;
        }
    }

    private static ReportRun? Read(string path)
    {
        if (new FileInfo(path).Length > LongestBytes)
            throw new ReportException("The file is larger than 256 MB.", path, "name the JSON file of a result.");
        JsonElement root;
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            root = document.RootElement.Clone();
        }
        catch (JsonException error)
        {
            throw new ReportException(
                $"The file is no JSON ({error.Message})",
                path,
                "name the JSON file that the command wrote.",
                error
            );
        }
        return KindOf(root) is { } kind ? new ReportRun(kind, path, root) : null;
    }

    private static ReportKind? KindOf(JsonElement root)
    {
        if (root.ValueKind != JsonValueKind.Object)
            return null;
        bool Has(string name) => root.TryGetProperty(name, out _);
        if (
            root.TryGetProperty("format", out JsonElement format)
            && format.ValueKind == JsonValueKind.String
            && format.GetString() == "echo-to-thickness statistics"
        )
            return ReportKind.Inspection;
        if (Has("criteria") && Has("sections"))
            return ReportKind.Validation;
        if (Has("rule_sets") && Has("chosen"))
            return ReportKind.Tuning;
        return Has("methods") && Has("paired_tests") ? ReportKind.Comparison : null;
    }

    private static ReportException Unknown(string path) =>
        new(
            "This is no result that a report can be made from.",
            path,
            "name the JSON file of 'ett statistics -o', or the folder of results of 'ett compare', 'tune' or 'validate'."
        );
}
