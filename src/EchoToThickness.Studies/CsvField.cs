namespace EchoToThickness.Studies;

/// <summary>Text as a field of a CSV file (RFC 4180).</summary>
internal static class CsvField
{
    /// <summary>The text, in quotation marks where a reader would take it for more than one field or line.</summary>
    public static string Of(string text) =>
        text.AsSpan().IndexOfAny(",\"\n\r") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
