using System.Globalization;
using System.Text;
using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Writes the table of keys of the layout map from the descriptions that the parser reads.</summary>
public static class LayoutReference
{
    /// <summary>Line of <c>docs/layout-maps.md</c> behind which the tables stand.</summary>
    public const string Marker = "<!-- The tables below are written by the tests with ETT_WRITE_DOCS=1. -->";

    /// <summary>The tables, Markdown with line feeds.</summary>
    public static string Tables()
    {
        StringBuilder text = new();
        IReadOnlyList<LayoutFacts.Fact> facts = LayoutFacts.Of(new LayoutMap());
        IReadOnlyList<KeyDescription> root = KeyDescription.Of(typeof(LayoutMap));
        text.Append("\n### At the top\n");
        Table(text, root.Where(k => !k.IsSection), new LayoutMap(), "", facts);
        foreach (KeyDescription section in root.Where(k => k.IsSection))
        {
            text.Append(CultureInfo.InvariantCulture, $"\n### `[{section.Key}]`\n\n{section.Attribute.Description}\n");
            object defaults = Activator.CreateInstance(section.ValueType)!;
            IReadOnlyList<KeyDescription> keys = KeyDescription.Of(section.ValueType);
            Table(text, keys, defaults, section.Key + ".", facts);
            foreach (KeyDescription key in keys.Where(k => k.ValueType.IsEnum && k.Key != "reversed"))
            {
                text.Append(CultureInfo.InvariantCulture, $"\nWords of `{key.Key}`:\n\n");
                foreach ((_, ChoiceAttribute choice) in KeyDescription.ChoicesOf(key.ValueType))
                    text.Append(CultureInfo.InvariantCulture, $"- `\"{choice.Word}\"`: {choice.Description}\n");
            }
        }
        text.Append("\n### Value source\n");
        Table(text, KeyDescription.Of(typeof(ValueSource)), new ValueSource(), "source.", facts);
        return text.ToString();
    }

    private static void Table(
        StringBuilder text,
        IEnumerable<KeyDescription> keys,
        object defaults,
        string prefix,
        IReadOnlyList<LayoutFacts.Fact> facts
    )
    {
        text.Append("\n| key | value | default | meaning |\n|---|---|---|---|\n");
        foreach (KeyDescription key in keys)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"| `{key.Key}` | {Value(key, prefix, facts)} | {Default(key, defaults)} | {key.Attribute.Description} |\n"
            );
        }
    }

    private static string Value(KeyDescription key, string prefix, IReadOnlyList<LayoutFacts.Fact> facts)
    {
        if (key.IsSection)
        {
            LayoutFacts.Fact fact = facts.First(f => f.Key == prefix + key.Key);
            string what = fact.Dimension is { } dimension ? UnitText.NameOf(dimension) : "number";
            string extent = fact.Extent switch
            {
                LayoutFacts.Extent.StackOrBeams => ", one or one a beam",
                LayoutFacts.Extent.Scans => ", one a scan position",
                LayoutFacts.Extent.Beams => ", one a beam",
                LayoutFacts.Extent.Samples => ", one a sample",
                LayoutFacts.Extent.Cells => ", one a cell",
                _ => "",
            };
            return $"value source ({what}{extent})";
        }
        string one =
            key.ValueType.IsEnum ? "word"
            : key.ValueType == typeof(bool) ? "`true` or `false`"
            : key.ValueType == typeof(int) || key.ValueType == typeof(long) ? "whole number"
            : key.ValueType == typeof(double) ? "number"
            : "text";
        return (key.IsList ? "list of " : "") + one;
    }

    private static string Default(KeyDescription key, object defaults)
    {
        object? value = key.Property.GetValue(defaults);
        return value switch
        {
            null => "left out",
            bool flag => flag ? "`true`" : "`false`",
            string words => $"`\"{words}\"`",
            IReadOnlyList<StoredAxis> axes => $"`[{string.Join(", ", axes.Select(a => $"\"{Word(a)}\""))}]`",
            System.Collections.ICollection => "`[]`",
            Enum choice => $"`\"{Word(choice)}\"`",
            _ => $"`{Convert.ToString(value, CultureInfo.InvariantCulture)}`",
        };
    }

    private static string Word(Enum value) =>
        KeyDescription.ChoicesOf(value.GetType()).First(c => c.Value.Equals(value)).Choice.Word;
}
