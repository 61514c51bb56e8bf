using System.Globalization;
using System.Text;
using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Writes the reference page of a described record from the same descriptions that the parser reads.</summary>
public static class ReferencePage
{
    /// <summary>The page <c>docs/procedure-reference.md</c>.</summary>
    public static string OfProcedure() =>
        Of(
            typeof(Procedure),
            "Procedure reference",
            "A procedure is a TOML file. Every quantity is text with its unit (`\"8.6 mm\"`); a key that is left out has its "
                + "default; an unknown key is an error. This page is made from the descriptions that the parser itself reads: "
                + "run the tests with `ETT_WRITE_DOCS=1` to write it anew."
        );

    /// <summary>A page about any described record.</summary>
    /// <param name="record">A type whose properties carry <see cref="ProcedureKeyAttribute"/>.</param>
    /// <param name="title">Title of the page.</param>
    /// <param name="introduction">First paragraph, Markdown.</param>
    /// <returns>Markdown with line feeds.</returns>
    public static string Of(Type record, string title, string introduction)
    {
        var text = new StringBuilder();
        text.Append("# ").Append(title).Append("\n\n").Append(introduction).Append('\n');
        Keys(text, KeyDescription.Of(record), Activator.CreateInstance(record)!);
        Sections(text, KeyDescription.Of(record), "");
        text.Append("\n## Units\n\n| dimension | units |\n|---|---|\n");
        foreach (Dimension dimension in Enum.GetValues<Dimension>())
            text.Append("| ")
                .Append(UnitText.NameOf(dimension))
                .Append(" | ")
                .AppendJoin(", ", UnitText.UnitsOf(dimension).Select(unit => $"`{unit}`"))
                .Append(" |\n");
        return text.ToString();
    }

    private static void Sections(StringBuilder text, IReadOnlyList<KeyDescription> keys, string path)
    {
        foreach (KeyDescription section in keys.Where(key => key.IsSection))
        {
            string name = path.Length == 0 ? section.Key : path + "." + section.Key;
            string header = section.IsList ? $"[[{name}]]" : $"[{name}]";
            text.Append("\n## `").Append(header).Append("`\n\n").Append(section.Attribute.Description).Append('\n');
            IReadOnlyList<KeyDescription> inner = KeyDescription.Of(section.ValueType);
            Keys(text, inner, Activator.CreateInstance(section.ValueType)!);
            Sections(text, inner, name);
        }
    }

    private static void Keys(StringBuilder text, IReadOnlyList<KeyDescription> keys, object defaults)
    {
        KeyDescription[] plain = keys.Where(key => !key.IsSection).ToArray();
        if (plain.Length == 0)
            return;
        text.Append("\n| key | value | default | meaning |\n|---|---|---|---|\n");
        foreach (KeyDescription key in plain)
            text.Append("| `")
                .Append(key.Key)
                .Append("` | ")
                .Append(ValueOf(key))
                .Append(" | ")
                .Append(DefaultOf(key, defaults))
                .Append(" | ")
                .Append(key.Attribute.Description.Replace("|", "\\|", StringComparison.Ordinal))
                .Append(" |\n");
        foreach (KeyDescription key in plain.Where(key => key.ValueType.IsEnum))
        {
            text.Append("\nWords of `").Append(key.Key).Append("`:\n\n");
            foreach ((_, ChoiceAttribute choice) in KeyDescription.ChoicesOf(key.ValueType))
                text.Append("- `\"").Append(choice.Word).Append("\"`: ").Append(choice.Description).Append('\n');
        }
    }

    private static string ValueOf(KeyDescription key)
    {
        string one =
            key.Attribute.Dimension is { } dimension ? UnitText.NameOf(dimension)
            : key.IsText ? TextForm(key.ValueType)
            : key.ValueType.IsEnum ? "word"
            : key.ValueType == typeof(bool) ? "`true` or `false`"
            : key.ValueType == typeof(int) || key.ValueType == typeof(long) ? "whole number"
            : key.ValueType == typeof(double) ? "number"
            : "text";
        string list = key.IsList ? "list of " : "";
        return list + one + RangeOf(key);
    }

    private static string RangeOf(KeyDescription key)
    {
        (double low, double high) = (key.Attribute.Minimum, key.Attribute.Maximum);
        string Limit(double limit) =>
            key.Attribute.Dimension is { } dimension
                ? UnitText.Format(limit, dimension)
                : limit.ToString("R", CultureInfo.InvariantCulture);
        return double.IsNaN(low) && double.IsNaN(high) ? ""
            : double.IsNaN(high) ? $", at least {Limit(low)}"
            : double.IsNaN(low) ? $", at most {Limit(high)}"
            : $", {Limit(low)} to {Limit(high)}";
    }

    private static string TextForm(Type type) => (string)type.GetProperty(nameof(LevelRule.TextForm))!.GetValue(null)!;

    private static string DefaultOf(KeyDescription key, object defaults)
    {
        if (key.Attribute.Required)
            return "required";
        object? value = key.Property.GetValue(defaults);
        return value is null ? "left out" : $"`{TomlWriter.ValueText(key, value)}`";
    }
}
