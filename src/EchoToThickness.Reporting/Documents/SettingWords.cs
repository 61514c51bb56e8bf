using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Settings in words, from the descriptions that the parser itself reads.</summary>
internal static class SettingWords
{
    public static TableBlock Table(string caption, object record) =>
        new(
            caption,
            ["setting", "value", "meaning"],
            [.. Rows(record).Select(r => (string[])[r.Name, r.Value, r.Meaning])]
        );

    /// <summary>Settings that differ from the defaults.</summary>
    public static IReadOnlyList<(string Name, string Value, string Meaning)> Changed(Procedure procedure)
    {
        var defaults = Rows(new Procedure()).ToDictionary(r => r.Name, r => r.Value);
        return
        [
            .. Rows(procedure)
                .Where(r =>
                    !r.Name.StartsWith("procedure.", StringComparison.Ordinal)
                    && (!defaults.TryGetValue(r.Name, out string? value) || value != r.Value)
                ),
        ];
    }

    private static List<(string Name, string Value, string Meaning)> Rows(object record)
    {
        var rows = new List<(string, string, string)>();
        Collect(rows, record, "");
        return rows;
    }

    private static void Collect(List<(string, string, string)> rows, object record, string path)
    {
        foreach (KeyDescription key in KeyDescription.Of(record.GetType()))
        {
            string name = path.Length == 0 ? key.Key : path + "." + key.Key;
            object? value = key.Property.GetValue(record);
            if (value is null)
            {
                if (!key.IsSection)
                    rows.Add((name, "left out", key.Attribute.Description));
            }
            else if (!key.IsSection)
                rows.Add((name, Empty(TomlBinder.TextOf(key, value)), Meaning(key, value)));
            else if (!key.IsList)
                Collect(rows, value, name);
            else
            {
                int number = 0;
                foreach (object item in (System.Collections.IEnumerable)value)
                    Collect(rows, item, ReportWords.Of($"{name}[{++number}]"));
            }
        }
    }

    private static string Meaning(KeyDescription key, object value)
    {
        if (!key.ValueType.IsEnum || key.IsList)
            return key.Attribute.Description;
        string chosen = KeyDescription
            .ChoicesOf(key.ValueType)
            .Where(c => c.Value.Equals(value))
            .Select(c => c.Choice.Description)
            .FirstOrDefault("");
        return chosen.Length == 0 ? key.Attribute.Description : $"{key.Attribute.Description} Here: {chosen}.";
    }

    private static string Empty(string text) => text is "" or "[]" ? "none" : text;
}
