using System.Collections;
using System.Globalization;
using System.Text;
using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Prints described records as TOML: values of a table first, then its tables, each in declaration order.</summary>
internal sealed class TomlWriter(bool withComments)
{
    private const int CommentWidth = 110;
    private readonly StringBuilder _text = new();

    public override string ToString() => _text.ToString();

    public void WriteRecord(object record, string path)
    {
        IReadOnlyList<KeyDescription> keys = KeyDescription.Of(record.GetType());
        foreach (KeyDescription key in keys.Where(k => !k.IsSection))
        {
            object? value = key.Property.GetValue(record);
            if (withComments)
                Comment(key.Attribute.Description + ValuesOf(key));
            if (value is not null)
                _text.Append(key.Key).Append(" = ").Append(ValueText(key, value)).Append('\n');
            else if (withComments)
                _text.Append("# ").Append(key.Key).Append(" is left out\n");
        }
        foreach (KeyDescription key in keys.Where(k => k.IsSection))
        {
            object? value = key.Property.GetValue(record);
            if (value is null)
                continue;
            string section = path.Length == 0 ? key.Key : path + "." + key.Key;
            if (!key.IsList)
                Section(key, value, section, "[" + section + "]");
            else
                foreach (object item in (IEnumerable)value)
                    Section(key, item, section, "[[" + section + "]]");
        }
    }

    private void Section(KeyDescription key, object value, string section, string header)
    {
        if (_text.Length > 0)
            _text.Append('\n');
        if (withComments)
            Comment(key.Attribute.Description);
        _text.Append(header).Append('\n');
        WriteRecord(value, section);
    }

    private void Comment(string text)
    {
        var line = new StringBuilder("#");
        foreach (string word in text.Split(' '))
        {
            if (line.Length + word.Length + 1 > CommentWidth)
            {
                _text.Append(line).Append('\n');
                line.Clear().Append('#');
            }
            line.Append(' ').Append(word);
        }
        _text.Append(line).Append('\n');
    }

    /// <summary>A value, or a list of values, as the file holds it.</summary>
    internal static string ValueText(KeyDescription key, object value) =>
        key.IsList ? List(key, value) : Scalar(key, value);

    /// <summary>A value as text without outer quotes; a list as TOML writes it.</summary>
    internal static string PlainText(KeyDescription key, object value) =>
        !key.IsList && value is string text ? text
        : TomlPatch.IsBare(key) ? ValueText(key, value)
        // Quantities, words and own forms hold no character that TOML escapes.
        : ValueText(key, value)[1..^1];

    private static string ValuesOf(KeyDescription key) =>
        key.ValueType.IsEnum
            ? " One of: "
                + string.Join(", ", KeyDescription.ChoicesOf(key.ValueType).Select(c => $"\"{c.Choice.Word}\""))
                + "."
            : "";

    private static string List(KeyDescription key, object value) =>
        "[" + string.Join(", ", ((IEnumerable)value).Cast<object>().Select(item => Scalar(key, item))) + "]";

    private static string Scalar(KeyDescription key, object value) =>
        value switch
        {
            bool flag => flag ? "true" : "false",
            int number => number.ToString(CultureInfo.InvariantCulture),
            long number => number.ToString(CultureInfo.InvariantCulture),
            double number => Number(key, number),
            string text => Quote(text),
            Enum choice => Quote(
                KeyDescription.ChoicesOf(key.ValueType).First(c => c.Value.Equals(choice)).Choice.Word
            ),
            _ => Quote(OwnText(value)),
        };

    private static string Number(KeyDescription key, double value)
    {
        if (!double.IsFinite(value))
            throw new ArgumentException($"{key.Key} is not a finite number.");
        return key.Attribute.Dimension is { } dimension
            ? Quote(UnitText.Format(value, dimension))
            : value.ToString("R", CultureInfo.InvariantCulture);
    }

    private static string OwnText(object value) =>
        (string)value.GetType().GetMethod(nameof(LevelRule.ToText), Type.EmptyTypes)!.Invoke(value, null)!;

    /// <summary>Text as TOML quotes it.</summary>
    internal static string Quote(string text)
    {
        var quoted = new StringBuilder("\"");
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
                quoted.Append(c).Append(text[++i]);
            else if (char.IsSurrogate(c))
                throw new ArgumentException("Text holds half of a surrogate pair, which TOML cannot.");
            else if (c is '"' or '\\')
                quoted.Append('\\').Append(c);
            else if (c == '\n')
                quoted.Append("\\n");
            else if (c == '\t')
                quoted.Append("\\t");
            else if (c == '\r')
                quoted.Append("\\r");
            else if (c < ' ' || c == '\u007F')
                quoted.Append("\\u").Append(((int)c).ToString("X4", CultureInfo.InvariantCulture));
            else
                quoted.Append(c);
        }
        return quoted.Append('"').ToString();
    }
}
