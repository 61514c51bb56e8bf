using System.Text.Json;
using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Workbench.Serving;

/// <summary>The form for a procedure, made from the descriptions that parser, reference page and help read as well.</summary>
internal static class ProcedureForm
{
    public static void Write(Utf8JsonWriter json)
    {
        var defaults = new Procedure();
        json.WriteStartArray("sections");
        foreach (KeyDescription section in KeyDescription.Of(typeof(Procedure)).Where(k => k.IsSection))
        {
            json.WriteStartObject();
            json.WriteString("key", section.Key);
            json.WriteString("text", section.Attribute.Description);
            json.WriteBoolean("list", section.IsList);
            object? record = section.IsList ? null : section.Property.GetValue(defaults);
            json.WriteStartArray("keys");
            foreach (KeyDescription key in KeyDescription.Of(section.ValueType))
                Key(json, key, record);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Key(Utf8JsonWriter json, KeyDescription key, object? record)
    {
        json.WriteStartObject();
        json.WriteString("key", key.Key);
        json.WriteString("text", key.Attribute.Description);
        json.WriteString("kind", KindOf(key));
        json.WriteBoolean("nullable", key.IsNullable);
        json.WriteBoolean("required", key.Attribute.Required);
        if (key.Attribute.Dimension is { } dimension)
        {
            json.WriteString("example", UnitText.Example(dimension));
            Limit(json, "minimum", key.Attribute.Minimum, dimension);
            Limit(json, "maximum", key.Attribute.Maximum, dimension);
        }
        else
        {
            JsonParts.Number(json, "minimum", key.Attribute.Minimum);
            JsonParts.Number(json, "maximum", key.Attribute.Maximum);
        }
        if (key.ValueType.IsEnum)
        {
            json.WriteStartArray("choices");
            foreach ((_, ChoiceAttribute choice) in KeyDescription.ChoicesOf(key.ValueType))
            {
                json.WriteStartObject();
                json.WriteString("word", choice.Word);
                json.WriteString("text", choice.Description);
                json.WriteEndObject();
            }
            json.WriteEndArray();
        }
        if (!key.IsSection && record is not null && key.Property.GetValue(record) is { } value)
            json.WriteString("default", TomlBinder.TextOf(key, value));
        json.WriteEndObject();
    }

    private static string KindOf(KeyDescription key) =>
        key.IsSection ? "tables"
        : key.IsList ? "list"
        : key.ValueType.IsEnum ? "choice"
        : key.ValueType == typeof(bool) ? "switch"
        : key.ValueType == typeof(string) ? "text"
        : key.IsText ? "form"
        : key.Attribute.Dimension is not null ? "quantity"
        : "number";

    private static void Limit(Utf8JsonWriter json, string name, double value, Dimension dimension)
    {
        if (double.IsFinite(value))
            json.WriteString(name, UnitText.Format(value, dimension));
        else
            json.WriteNull(name);
    }
}
