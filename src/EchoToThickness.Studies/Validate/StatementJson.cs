using System.Text.Encodings.Web;
using System.Text.Json;
using EchoToThickness.Procedures;
using EchoToThickness.Validation;

namespace EchoToThickness.Studies.Validate;

/// <summary>A statement as JSON: SI units, null where there is no figure.</summary>
public static class StatementJson
{
    /// <summary>The whole statement in UTF-8, ended by a line feed.</summary>
    /// <param name="statement">The statement.</param>
    public static byte[] Write(ValidationStatement statement)
    {
        ArgumentNullException.ThrowIfNull(statement);
        ValidatePlan plan = statement.Plan;
        using var stream = new MemoryStream();
        using (
            var json = new Utf8JsonWriter(
                stream,
                new JsonWriterOptions
                {
                    Indented = true,
                    NewLine = "\n",
                    Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
                }
            )
        )
        {
            json.WriteStartObject();
            json.WriteString("name", plan.Study.Header.Name);
            json.WriteString("verdict", VerdictWords.Of(statement.Verdict));
            json.WriteString("study_sha256", plan.StudySha256);
            json.WriteString("procedure_sha256", plan.ProcedureSha256);
            json.WriteBoolean("procedure_was_frozen", plan.WasFrozen);
            json.WriteString("study", TomlBinder.Write(plan.Study));
            Texts(json, "warnings", statement.Warnings);
            json.WriteStartArray("criteria");
            foreach (CriterionResult result in statement.Criteria)
            {
                json.WriteStartObject();
                json.WriteString("quantity", VerdictWords.Of(result.Criterion.Quantity));
                json.WriteString("verdict", VerdictWords.Of(result.Verdict));
                Number(json, "limit", result.Limit);
                Number(json, "decisive", result.Decisive);
                Figure(json, result.Figure, result.Unit);
                json.WriteString("why", result.Why);
                json.WriteString("reason", result.Criterion.Reason);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteStartArray("sections");
            foreach (StatementSection section in statement.Sections)
                Section(json, section);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }

    private static void Section(Utf8JsonWriter json, StatementSection section)
    {
        json.WriteStartObject();
        json.WriteString("key", section.Key);
        json.WriteString("title", section.Title);
        Texts(json, "text", section.Text);
        json.WriteStartArray("figures");
        foreach (StatementRow row in section.Rows)
        {
            json.WriteStartObject();
            json.WriteString("label", row.Label);
            Figure(json, row.Figure, row.Unit);
            json.WriteString("note", row.Note);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        Texts(json, "columns", section.Columns);
        json.WriteStartArray("lines");
        foreach (IReadOnlyList<string> line in section.Lines)
        {
            json.WriteStartArray();
            foreach (string cell in line)
                json.WriteStringValue(cell);
            json.WriteEndArray();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Figure(Utf8JsonWriter json, Estimate figure, StatementUnit unit)
    {
        json.WriteString(
            "unit",
            unit switch
            {
                StatementUnit.Millimetres => "m",
                StatementUnit.PerSquareMetre => "1/m2",
                _ => "1",
            }
        );
        Number(json, "value", figure.Value);
        Number(json, "standard_error", figure.StandardError);
        Number(json, "low", figure.Interval.Low);
        Number(json, "high", figure.Interval.High);
        Number(json, "confidence", figure.Interval.Confidence);
        json.WriteNumber("n", figure.Units);
        json.WriteNumber("readings", figure.Observations);
        Number(json, "degrees_of_freedom", figure.DegreesOfFreedom);
        json.WriteString("method", figure.Method);
        if (figure.Refusal is { } refusal)
            json.WriteString("refused", refusal.Message);
        else
            json.WriteNull("refused");
    }

    private static void Texts(Utf8JsonWriter json, string name, IReadOnlyList<string> texts)
    {
        json.WriteStartArray(name);
        foreach (string text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, value);
        else
            json.WriteNull(name);
    }
}
