using System.Text.Json;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Validate;

/// <summary>Finds scans that tuning has seen, by the SHA-256 of their stacks.</summary>
internal static class TuningCheck
{
    public static IReadOnlyList<string> Seen(
        TomlDocument<ValidateStudy> document,
        StudyFolder folder,
        IReadOnlyList<PlacedScan> scans
    )
    {
        TuningSettings tuning = document.Value.Tuning;
        string place = document.PlaceOf("tuning.records");
        var hashes = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (string name in tuning.Records)
            hashes.UnionWith(
                Hashes(StudyFolder.ReadText(folder.Find(name, "record", "tuning.records", place), name), name)
            );
        PlacedScan[] seen = [.. scans.Where(s => hashes.Contains(s.Sha256))];
        if (seen.Length > 0 && !tuning.Allow)
            throw new ProcedureException([
                .. seen.Select(s => new ProcedureFinding(
                    "tuning.records",
                    $"Tuning has seen {s.Name} (SHA-256 {s.Sha256[..12]}...): it proves nothing of the procedure.",
                    "validate on scans that tuning has not seen, or set tuning.allow = true: the statement then says so."
                )
                {
                    Place = place,
                }),
            ]);
        return [.. seen.Select(s => s.Name)];
    }

    /// <summary>Every text of 64 hexadecimal digits in a record: whatever its form, a stack that it names is found.</summary>
    internal static IReadOnlyList<string> Hashes(string json, string fileName)
    {
        var found = new List<string>();
        try
        {
            using JsonDocument record = JsonDocument.Parse(json);
            Walk(record.RootElement, found);
        }
        catch (JsonException error)
        {
            throw new ProcedureException(
                $"The record cannot be read: {error.Message}",
                fileName,
                "give a tuning-record.json as 'ett tune' wrote it."
            );
        }
        if (found.Count == 0)
            throw new ProcedureException(
                "The record names no stack.",
                fileName,
                "give a tuning-record.json as 'ett tune' wrote it."
            );
        return found;
    }

    private static void Walk(JsonElement element, List<string> found)
    {
        switch (element.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (JsonProperty property in element.EnumerateObject())
                    Walk(property.Value, found);
                break;
            case JsonValueKind.Array:
                foreach (JsonElement item in element.EnumerateArray())
                    Walk(item, found);
                break;
            case JsonValueKind.String when element.GetString() is { Length: 64 } text && text.All(char.IsAsciiHexDigit):
                found.Add(text);
                break;
        }
    }
}
