using System.Text.Json;

namespace EchoToThickness.Cli.Tests;

/// <summary>The words of JSON Schema that our schema uses: type, properties, required, items, additionalProperties, enum, $ref.</summary>
internal sealed class SchemaCheck(JsonElement root)
{
    private static readonly string[] Words =
    [
        "$schema",
        "$ref",
        "type",
        "properties",
        "required",
        "items",
        "additionalProperties",
        "enum",
        "default",
        "description",
    ];

    public List<string> Faults { get; } = [];

    public int Checked { get; private set; }

    public void Check(JsonElement value) => Check(value, root, "$");

    private void Check(JsonElement value, JsonElement schema, string path)
    {
        Checked++;
        if (schema.ValueKind == JsonValueKind.True)
            return;
        foreach (JsonProperty word in schema.EnumerateObject())
            if (!Words.Contains(word.Name))
                Faults.Add($"{path}: the schema says {word.Name}, which this check does not know");
        if (schema.TryGetProperty("$ref", out JsonElement reference))
        {
            Check(value, Resolve(reference.GetString()!), path);
            return;
        }
        if (schema.TryGetProperty("enum", out JsonElement choices))
        {
            if (!choices.EnumerateArray().Any(c => c.ToString() == value.ToString()))
                Faults.Add($"{path}: {value} is none of the choices");
            return;
        }
        if (schema.TryGetProperty("type", out JsonElement type))
        {
            string[] types =
                type.ValueKind == JsonValueKind.Array
                    ? [.. type.EnumerateArray().Select(t => t.GetString()!)]
                    : [type.GetString()!];
            if (!types.Any(t => Is(value, t)))
                Faults.Add($"{path}: {value.ValueKind} is not {string.Join(" or ", types)}");
        }
        else
            Faults.Add($"{path}: the schema says nothing");
        if (value.ValueKind == JsonValueKind.Object)
            CheckObject(value, schema, path);
        if (value.ValueKind == JsonValueKind.Array && schema.TryGetProperty("items", out JsonElement items))
            foreach (JsonElement item in value.EnumerateArray())
                Check(item, items, path + "[]");
    }

    private void CheckObject(JsonElement value, JsonElement schema, string path)
    {
        bool hasProperties = schema.TryGetProperty("properties", out JsonElement properties);
        if (schema.TryGetProperty("required", out JsonElement required))
            foreach (JsonElement name in required.EnumerateArray())
                if (!value.TryGetProperty(name.GetString()!, out _))
                    Faults.Add($"{path}: {name} is missing");
        foreach (JsonProperty property in value.EnumerateObject())
            if (hasProperties && properties.TryGetProperty(property.Name, out JsonElement inner))
                Check(property.Value, inner, path + "." + property.Name);
            else if (schema.TryGetProperty("additionalProperties", out JsonElement others))
                Check(property.Value, others, path + ".*");
            else
                Faults.Add($"{path}: {property.Name} is not in the schema");
    }

    private static bool Is(JsonElement value, string type) =>
        type switch
        {
            "null" => value.ValueKind == JsonValueKind.Null,
            "number" => value.ValueKind == JsonValueKind.Number,
            "integer" => value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out _),
            "string" => value.ValueKind == JsonValueKind.String,
            "boolean" => value.ValueKind is JsonValueKind.True or JsonValueKind.False,
            "array" => value.ValueKind == JsonValueKind.Array,
            "object" => value.ValueKind == JsonValueKind.Object,
            _ => false,
        };

    private JsonElement Resolve(string pointer)
    {
        JsonElement at = root;
        foreach (string step in pointer.TrimStart('#').Split('/', StringSplitOptions.RemoveEmptyEntries))
            at = at.GetProperty(
                step.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal)
            );
        return at;
    }
}
