using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using EchoToThickness.Components;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>The report as JSON, and its schema made from the same types.</summary>
public static class StatisticsJson
{
    private static readonly JsonSerializerOptions Options = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        DictionaryKeyPolicy = JsonNamingPolicy.SnakeCaseLower,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower), new FiniteOrNull() },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { LeaveOutIgnored } },
    };

    /// <summary>Writes a report; a number that is not there is null.</summary>
    /// <param name="report">The report.</param>
    public static string Write(StatisticsReport report) => JsonSerializer.Serialize(report, Options) + "\n";

    /// <summary>The JSON Schema (2020-12) of a report; a number that may not be there may be null.</summary>
    public static string Schema() => SchemaNode(_ => null).ToJsonString(Options) + "\n";

    /// <summary>The schema with a description of every property.</summary>
    /// <param name="describe">Type and CLR name of a property to its description; null for none.</param>
    public static JsonNode SchemaNode(Func<(Type Type, string Property), string?> describe)
    {
        ArgumentNullException.ThrowIfNull(describe);
        JsonNode schema = Options.GetJsonSchemaAsNode(
            typeof(StatisticsReport),
            new JsonSchemaExporterOptions
            {
                TreatNullObliviousAsNonNullable = true,
                TransformSchemaNode = (context, node) =>
                {
                    if (context.TypeInfo.Type == typeof(double) || context.TypeInfo.Type == typeof(double?))
                        node = NumberOrNull();
                    // The exporter knows nothing of values with a converter of their own and leaves them out.
                    if (context.TypeInfo.ElementType == typeof(double) && node is JsonObject many)
                        many[context.TypeInfo.Kind == JsonTypeInfoKind.Dictionary ? "additionalProperties" : "items"] =
                            NumberOrNull();
                    // It knows nothing either of the nullability of what a list holds: a region may have no such cell.
                    if (
                        (
                            context.TypeInfo.ElementType == typeof(BorneOutWall)
                            || context.TypeInfo.ElementType == typeof(CellSource)
                        ) && node is JsonObject list
                    )
                        list["items"] = OrNull(list["items"]!);
                    if (
                        context.PropertyInfo is { } property
                        && node is JsonObject described
                        && describe((property.DeclaringType, NameOf(property))) is { } words
                    )
                        described["description"] = words;
                    return node;
                },
            }
        );
        if (schema is JsonObject root)
            root.Insert(0, "$schema", "https://json-schema.org/draft/2020-12/schema");
        return schema;
    }

    private static JsonNode OrNull(JsonNode items)
    {
        JsonNode own = items.DeepClone();
        if (own is JsonObject { } known && known["type"] is JsonValue type && type.TryGetValue(out string? name))
        {
            known["type"] = new JsonArray(name, "null");
            return known;
        }
        return new JsonObject { ["anyOf"] = new JsonArray(own, new JsonObject { ["type"] = "null" }) };
    }

    private static JsonObject NumberOrNull() => new() { ["type"] = new JsonArray("number", "null") };

    /// <summary>A required member that is not written is not required of the file either.</summary>
    private static void LeaveOutIgnored(JsonTypeInfo type)
    {
        if (type.Kind != JsonTypeInfoKind.Object)
            return;
        for (int k = type.Properties.Count - 1; k >= 0; k--)
            if (type.Properties[k].Get is null && type.Properties[k].Set is null)
                type.Properties.RemoveAt(k);
    }

    private static string NameOf(JsonPropertyInfo property) =>
        (property.AttributeProvider as System.Reflection.MemberInfo)?.Name ?? property.Name;

    private sealed class FiniteOrNull : JsonConverter<double>
    {
        public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.TokenType == JsonTokenType.Null ? double.NaN : reader.GetDouble();

        public override bool HandleNull => true;

        public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
        {
            if (double.IsFinite(value))
                writer.WriteNumberValue(value);
            else
                writer.WriteNullValue();
        }
    }
}
