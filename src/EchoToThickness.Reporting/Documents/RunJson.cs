using System.Text.Json;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Reads a JSON tree by path; what is not there is NaN, empty or nothing.</summary>
internal readonly struct RunJson(JsonElement element)
{
    public RunJson this[string path]
    {
        get
        {
            JsonElement at = element;
            foreach (string name in path.Split('.'))
                if (at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(name, out at))
                    return default;
            return new RunJson(at);
        }
    }

    public bool Exists => element.ValueKind is not (JsonValueKind.Undefined or JsonValueKind.Null);

    public JsonElement Element => element;

    public double Number => element.ValueKind == JsonValueKind.Number ? element.GetDouble() : double.NaN;

    public int Whole => element.ValueKind == JsonValueKind.Number && element.TryGetInt32(out int value) ? value : 0;

    public bool Truth => element.ValueKind == JsonValueKind.True;

    public string Text => element.ValueKind == JsonValueKind.String ? element.GetString() ?? "" : "";

    public IReadOnlyList<RunJson> Items =>
        element.ValueKind == JsonValueKind.Array ? [.. element.EnumerateArray().Select(e => new RunJson(e))] : [];

    public IReadOnlyList<string> Texts => [.. Items.Select(i => i.Text)];

    public IReadOnlyList<double> Numbers => [.. Items.Select(i => i.Number)];

    public IReadOnlyList<(string Name, RunJson Value)> Members =>
        element.ValueKind == JsonValueKind.Object
            ? [.. element.EnumerateObject().Select(p => (p.Name, new RunJson(p.Value)))]
            : [];
}
