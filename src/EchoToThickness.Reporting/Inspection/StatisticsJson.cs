using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Schema;
using System.Text.Json.Serialization;

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
        TypeInfoResolver = new System.Text.Json.Serialization.Metadata.DefaultJsonTypeInfoResolver(),
    };

    /// <summary>Writes a report; a number that is not there is null.</summary>
    /// <param name="report">The report.</param>
    public static string Write(StatisticsReport report) => JsonSerializer.Serialize(report, Options) + "\n";

    /// <summary>The JSON Schema of a report.</summary>
    public static string Schema() =>
        new JsonSerializerOptions(Options) { Converters = { } }
            .GetJsonSchemaAsNode(typeof(StatisticsReport))
            .ToJsonString(Options) + "\n";

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
