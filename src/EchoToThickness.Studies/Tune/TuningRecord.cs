using System.Text.Json;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Tune;

/// <summary>
/// Which stacks a procedure was tuned on (<c>tuning-record.json</c>): evidence from these stacks says nothing new about it, so validation refuses
/// them.
/// </summary>
public sealed record TuningRecord
{
    /// <summary>Name of the file in a folder of results.</summary>
    public const string FileName = "tuning-record.json";

    private const string Format = "echo to thickness tuning record";
    private const int Version = 1;

    /// <summary>Name of the study.</summary>
    public required string Study { get; init; }

    /// <summary>SHA-256 of the study.</summary>
    public required string StudySha256 { get; init; }

    /// <summary>SHA-256 of the chosen procedure as <c>ett measure</c> states it.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>Whether the walls were known to the search.</summary>
    public required bool KnewTruth { get; init; }

    /// <summary>Stacks used: name, SHA-256, and whether it is that of a file (else of the scene and seed that a simulated scan was made from).</summary>
    public required IReadOnlyList<(string Name, string Sha256, bool IsFile)> Stacks { get; init; }

    /// <summary>The record of a search.</summary>
    /// <param name="report">What it found.</param>
    public static TuningRecord Of(TuneReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return new TuningRecord
        {
            Study = report.Plan.Study.Header.Name,
            StudySha256 = report.Plan.StudySha256,
            ProcedureSha256 = ProcedureText.Sha256(WinnerFile.ProcedureOf(report)),
            KnewTruth = report.KnowsTruth,
            Stacks = StacksOf(report),
        };
    }

    /// <summary>The stacks of a search.</summary>
    internal static IReadOnlyList<(string Name, string Sha256, bool IsFile)> StacksOf(TuneReport report) =>
        [
            .. report.Plan.Points.Select(p =>
                p is StackPoint stack
                    ? (p.ToString(), stack.StackSha256, true)
                    : (
                        p.ToString(),
                        ContentHash.Of(
                            p.Identity
                                + string.Concat(Enumerable.Range(0, p.Blocks).Select(b => "\n" + p.BlockIdentity(b)))
                        ),
                        false
                    )
            ),
        ];

    /// <summary>Whether a stack was used.</summary>
    /// <param name="stackSha256">SHA-256 of its file.</param>
    public bool Holds(string stackSha256) =>
        Stacks.Any(s => s.IsFile && string.Equals(s.Sha256, stackSha256, StringComparison.OrdinalIgnoreCase));

    /// <summary>The record as JSON.</summary>
    public string ToJson()
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            json.WriteStartObject();
            json.WriteString("format", Format);
            json.WriteNumber("version", Version);
            json.WriteString("study", Study);
            json.WriteString("study_sha256", StudySha256);
            json.WriteString("procedure_sha256", ProcedureSha256);
            json.WriteBoolean("truth_known", KnewTruth);
            json.WriteStartArray("stacks");
            foreach ((string name, string sha256, bool isFile) in Stacks)
            {
                json.WriteStartObject();
                json.WriteString("name", name);
                json.WriteString("kind", isFile ? "file" : "simulated");
                json.WriteString("sha256", sha256);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        return System.Text.Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    /// <summary>Reads a record.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="StackFormatException">Not a tuning record.</exception>
    public static TuningRecord Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            JsonElement root = document.RootElement;
            if (root.GetProperty("format").GetString() != Format || root.GetProperty("version").GetInt32() != Version)
                throw new FormatException("another format or version");
            string Text(JsonElement element, string name) =>
                element.GetProperty(name).GetString() ?? throw new FormatException($"'{name}' is empty");
            return new TuningRecord
            {
                Study = Text(root, "study"),
                StudySha256 = Text(root, "study_sha256"),
                ProcedureSha256 = Text(root, "procedure_sha256"),
                KnewTruth = root.GetProperty("truth_known").GetBoolean(),
                Stacks =
                [
                    .. root.GetProperty("stacks")
                        .EnumerateArray()
                        .Select(s => (Text(s, "name"), Text(s, "sha256"), Text(s, "kind") == "file")),
                ],
            };
        }
        catch (Exception error)
            when (error is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            throw new StackFormatException(
                $"The file is no tuning record ({error.Message}).",
                path,
                "",
                $"name the {FileName} that 'ett tune' wrote."
            );
        }
    }
}
