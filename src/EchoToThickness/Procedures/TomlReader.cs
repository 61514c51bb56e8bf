using System.Globalization;
using System.Reflection;
using EchoToThickness.Units;
using Tomlyn.Syntax;

namespace EchoToThickness.Procedures;

/// <summary>Binds a tree of TOML tables to described records and collects every fault.</summary>
internal sealed class TomlReader(Type root)
{
    private static readonly MethodInfo TextReader = typeof(TomlReader).GetMethod(
        nameof(ParseText),
        BindingFlags.NonPublic | BindingFlags.Static
    )!;

    private readonly Dictionary<string, string> _places = [];

    public List<ProcedureFinding> Findings { get; } = [];

    public IReadOnlyDictionary<string, string> Places => _places;

    public object ReadRecord(Type type, TomlTable table, string path)
    {
        object record = Activator.CreateInstance(type)!;
        IReadOnlyList<KeyDescription> keys = KeyDescription.Of(type);
        foreach (TomlEntry entry in table.Entries)
        {
            KeyDescription? key = keys.FirstOrDefault(k => k.Key == entry.Name);
            string entryPath = path.Length == 0 ? entry.Name : path + "." + entry.Name;
            _places[entryPath] = TomlTree.Place(entry.Span);
            if (key is null)
                Unknown(entry, entryPath, path, keys);
            else if (ReadEntry(key, entry, entryPath) is { } value)
                key.Property.SetValue(record, value);
        }
        foreach (KeyDescription key in keys)
            if (key.Attribute.Required && table.Find(key.Key) is null)
                Findings.Add(
                    new ProcedureFinding(
                        path.Length == 0 ? key.Key : path + "." + key.Key,
                        $"The key '{key.Key}' is missing.",
                        $"add {key.Key} = {ExampleOf(key)} ({key.Attribute.Description})"
                    )
                    {
                        Place = TomlTree.Place(table.Span),
                    }
                );
        return record;
    }

    private object? ReadEntry(KeyDescription key, TomlEntry entry, string path)
    {
        if (key.IsSection)
        {
            if (!key.IsList && entry.Table is { } table)
                return ReadRecord(key.ValueType, table, path);
            List<TomlTable>? tables =
                entry.Tables ?? (entry.Value is ArraySyntax { Items.ChildrenCount: 0 } && key.IsList ? [] : null);
            if (key.IsList && tables is not null)
                return List(
                    key.ValueType,
                    tables.Select(
                        (t, i) =>
                        {
                            string itemPath = string.Create(CultureInfo.InvariantCulture, $"{path}[{i + 1}]");
                            _places[itemPath] = TomlTree.Place(t.Span);
                            return ReadRecord(key.ValueType, t, itemPath);
                        }
                    )
                );
            string header = string.Join('.', path.Split('.').Select(part => part.Split('[')[0]));
            Fault(
                entry.Span,
                path,
                key.IsList ? $"'{key.Key}' must be a list of tables." : $"'{key.Key}' must be a table.",
                key.IsList ? $"begin each entry with [[{header}]]." : $"begin it with [{header}]."
            );
            return null;
        }
        if (entry.Value is null)
        {
            Fault(
                entry.Span,
                path,
                $"'{key.Key}' must be a value, not a table.",
                $"write {key.Key} = {ExampleOf(key)}."
            );
            return null;
        }
        if (!key.IsList)
            return ReadScalar(key, entry.Value, path);
        if (entry.Value is not ArraySyntax array)
        {
            Fault(entry.Value.Span, path, $"'{key.Key}' must be a list.", $"write {key.Key} = {ExampleOf(key)}.");
            return null;
        }
        var items = new List<object>();
        bool sound = true;
        foreach (ArrayItemSyntax item in array.Items)
        {
            object? value = item.Value is null ? null : ReadScalar(key, item.Value, path);
            sound &= value is not null;
            if (value is not null)
                items.Add(value);
        }
        return sound ? List(key.ValueType, items) : null;
    }

    private object? ReadScalar(KeyDescription key, ValueSyntax value, string path)
    {
        try
        {
            object result = Convert(key, value);
            string? range = result switch
            {
                double number => OutOfRange(key, number),
                int number => OutOfRange(key, number),
                long number => OutOfRange(key, number),
                _ => null,
            };
            if (range is null)
                return result;
            Fault(value.Span, path, $"{key.Key} = {Found(value)} is out of range.", range);
        }
        catch (UnitException e)
        {
            Fault(value.Span, path, e.What, e.Remedy);
        }
        return null;
    }

    private static object Convert(KeyDescription key, ValueSyntax value)
    {
        Type type = key.ValueType;
        if (type == typeof(bool))
            return value is BooleanValueSyntax flag ? flag.Value : throw Wrong(key, value, "true or false");
        if (type == typeof(string))
            return value is StringValueSyntax text ? text.Value ?? "" : throw Wrong(key, value, "text in quotes");
        if (type == typeof(int) || type == typeof(long))
            return Integer(key, value);
        if (type.IsEnum)
            return Choice(key, value);
        if (key.IsText)
            return value is StringValueSyntax text
                ? ParseOwnText(type, text.Value ?? "")
                : throw Wrong(key, value, "text in quotes");
        if (key.Attribute.Dimension is { } dimension)
        {
            if (value is StringValueSyntax quantity)
                return UnitText.Parse(quantity.Value ?? "", dimension);
            if (value is IntegerValueSyntax or FloatValueSyntax)
                throw new UnitException(
                    $"{key.Key} = {Found(value)} has no unit.",
                    $"write {UnitText.NameOf(dimension)} as text with its unit, such as {key.Key} = \"{UnitText.Example(dimension)}\"."
                );
            throw Wrong(key, value, "text with a unit");
        }
        return value switch
        {
            IntegerValueSyntax integer => (double)integer.Value,
            FloatValueSyntax real when double.IsFinite(real.Value) => real.Value,
            StringValueSyntax => throw Wrong(key, value, "a plain number without quotes"),
            _ => throw Wrong(key, value, "a finite number"),
        };
    }

    private static object Integer(KeyDescription key, ValueSyntax value)
    {
        if (value is not IntegerValueSyntax integer)
            throw Wrong(key, value, "a whole number");
        if (key.ValueType == typeof(long))
            return integer.Value;
        return integer.Value is >= int.MinValue and <= int.MaxValue
            ? (int)integer.Value
            : throw Wrong(key, value, "a whole number of ordinary size");
    }

    private static object Choice(KeyDescription key, ValueSyntax value)
    {
        IReadOnlyList<(object Value, ChoiceAttribute Choice)> choices = KeyDescription.ChoicesOf(key.ValueType);
        string words = string.Join(", ", choices.Select(c => $"\"{c.Choice.Word}\""));
        if (value is not StringValueSyntax text)
            throw Wrong(key, value, "one of the words " + words);
        string word = text.Value ?? "";
        foreach ((object found, ChoiceAttribute choice) in choices)
            if (choice.Word == word)
                return found;
        string? near = Suggestion.For(word, choices.Select(c => c.Choice.Word));
        throw new UnitException(
            $"{key.Key} = \"{word}\" is not one of its words.",
            (near is null ? "" : $"did you mean \"{near}\"? ") + $"Allowed: {words}."
        );
    }

    private static object ParseOwnText(Type type, string text)
    {
        try
        {
            return TextReader.MakeGenericMethod(type).Invoke(null, [text])!;
        }
        catch (TargetInvocationException e) when (e.InnerException is UnitException inner)
        {
            throw inner;
        }
    }

    private static T ParseText<T>(string text)
        where T : ITextValue<T> => T.ParseText(text);

    private static string? OutOfRange(KeyDescription key, double value)
    {
        (double low, double high) = (key.Attribute.Minimum, key.Attribute.Maximum);
        if (!(value < low) && !(value > high))
            return null;
        string Text(double limit) =>
            key.Attribute.Dimension is { } dimension
                ? "\"" + UnitText.Format(limit, dimension) + "\""
                : limit.ToString("R", CultureInfo.InvariantCulture);
        return double.IsNaN(high) ? $"write at least {Text(low)}."
            : double.IsNaN(low) ? $"write at most {Text(high)}."
            : $"write a value from {Text(low)} to {Text(high)}.";
    }

    private static UnitException Wrong(KeyDescription key, ValueSyntax value, string wanted) =>
        new($"{key.Key} = {Found(value)} must be {wanted}.", $"write {key.Key} = {ExampleOf(key)}.");

    private static string Found(ValueSyntax value)
    {
        string text = (value.ToString() ?? "").Trim();
        return text.Length > 40 ? text[..40] + "..." : text;
    }

    /// <summary>A well-formed value of a key, for messages.</summary>
    private static string ExampleOf(KeyDescription key)
    {
        string one =
            key.Attribute.Dimension is { } dimension ? $"\"{UnitText.Example(dimension)}\""
            : key.ValueType == typeof(bool) ? "true"
            : key.ValueType == typeof(GateExtent) ? "\"0.6 us\""
            : key.ValueType == typeof(LevelRule) ? "\"5 x noise\""
            : key.ValueType.IsEnum ? $"\"{KeyDescription.ChoicesOf(key.ValueType)[0].Choice.Word}\""
            : key.ValueType == typeof(double) ? "1.5"
            : key.ValueType == typeof(int) || key.ValueType == typeof(long) ? "1"
            : "\"text\"";
        return key.IsSection ? "{ ... }"
            : key.IsList ? $"[{one}]"
            : one;
    }

    private static object List(Type type, IEnumerable<object> items)
    {
        object[] all = items.ToArray();
        var array = Array.CreateInstance(type, all.Length);
        for (int i = 0; i < all.Length; i++)
            array.SetValue(all[i], i);
        return array;
    }

    private void Unknown(TomlEntry entry, string entryPath, string path, IReadOnlyList<KeyDescription> keys)
    {
        string where = path.Length == 0 ? "at the top of the file" : $"in [{path}]";
        string? near = Suggestion.For(entry.Name, keys.Select(k => k.Key));
        string? section = near is null ? SectionWith(root, entry.Name, "") : null;
        string remedy =
            near is not null ? $"did you mean '{near}'?"
            : section is not null ? $"'{entry.Name}' belongs to [{section}]; move it there."
            : $"remove it; keys known here: {string.Join(", ", keys.Select(k => k.Key))}.";
        Fault(entry.Span, entryPath, $"Unknown key '{entry.Name}' {where}.", remedy);
    }

    private static string? SectionWith(Type type, string name, string path)
    {
        foreach (KeyDescription section in KeyDescription.Of(type).Where(k => k.IsSection))
        {
            string sectionPath = path.Length == 0 ? section.Key : path + "." + section.Key;
            if (KeyDescription.Of(section.ValueType).Any(k => k.Key == name))
                return sectionPath;
            if (section.ValueType != type && SectionWith(section.ValueType, name, sectionPath) is { } deeper)
                return deeper;
        }
        return null;
    }

    private void Fault(SourceSpan span, string path, string what, string remedy) =>
        Findings.Add(new ProcedureFinding(path, what, remedy) { Place = TomlTree.Place(span) });
}
