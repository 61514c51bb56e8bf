using System.Globalization;
using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace EchoToThickness.Procedures;

/// <summary>Puts overrides into a tree of TOML tables, before it is bound to a record.</summary>
internal static class TomlPatch
{
    /// <summary>Sets a key, making the tables on its way; a list entry must be in the file already.</summary>
    public static void Apply(Type root, TomlTable tree, TomlOverride change, List<ProcedureFinding> findings)
    {
        void Fault(string what, string remedy) =>
            findings.Add(new ProcedureFinding(change.Key, what, remedy) { Place = change.Place });

        string[] parts = change.Key.Split('.');
        Type type = root;
        TomlTable table = tree;
        for (int i = 0; i < parts.Length; i++)
        {
            (string name, int? number) = Split(parts[i]);
            IReadOnlyList<KeyDescription> keys = KeyDescription.Of(type);
            KeyDescription? key = keys.FirstOrDefault(k => k.Key == name);
            if (key is null)
            {
                string? near = Suggestion.For(name, keys.Select(k => k.Key));
                Fault(
                    $"There is no key '{name}'{(i == 0 ? "" : $" in [{string.Join('.', parts[..i])}]")}.",
                    near is null
                        ? $"use one of: {string.Join(", ", keys.Select(k => k.Key))}."
                        : $"did you mean '{near}'?"
                );
                return;
            }
            bool last = i == parts.Length - 1;
            if (last != !key.IsSection)
            {
                Fault(
                    last ? $"'{change.Key}' is a section, not a value." : $"'{name}' is a value, not a section.",
                    last
                        ? $"name a key of it: {string.Join(", ", KeyDescription.Of(key.ValueType).Select(k => k.Key))}."
                        : $"write '{string.Join('.', parts[..(i + 1)])}'."
                );
                return;
            }
            TomlEntry entry = table.FindOrAdd(name, tree.Span);
            if (last)
            {
                if (Value(key, change.Value, out string? fault) is not { } value)
                {
                    Fault(fault!, "correct the value.");
                    return;
                }
                entry.Value = value;
                return;
            }
            if (key.IsList)
            {
                int count = entry.Tables?.Count ?? 0;
                if (number is not { } wanted || wanted < 1 || wanted > count)
                {
                    Fault(
                        $"'{name}' is a list of {count}; '{parts[i]}' names no entry of it.",
                        count == 0
                            ? $"write the entry [[{name}]] in the file first."
                            : $"write '{name}[1]'{(count > 1 ? $" to '{name}[{count}]'" : "")}."
                    );
                    return;
                }
                table = entry.Tables![wanted - 1];
            }
            else
            {
                table = entry.Table ??= new TomlTable(tree.Span);
            }
            type = key.ValueType;
        }
    }

    /// <summary>A value given as text without outer quotes, as TOML writes it for a key.</summary>
    public static string Literal(KeyDescription key, string text) => IsBare(key) ? text : TomlWriter.Quote(text);

    /// <summary>Whether a key's value stands in the file without quotes of its own.</summary>
    public static bool IsBare(KeyDescription key) =>
        key.IsList
        || key.ValueType == typeof(bool)
        || key.ValueType == typeof(int)
        || key.ValueType == typeof(long)
        || (key.ValueType == typeof(double) && key.Attribute.Dimension is null);

    private static ValueSyntax? Value(KeyDescription key, string text, out string? fault)
    {
        string literal = Literal(key, text);
        fault = null;
        try
        {
            DocumentSyntax document = SyntaxParser.Parse(
                "x = " + literal + "\n",
                new TomlSerializerOptions(),
                "",
                true
            );
            if (!document.HasErrors && document.KeyValues.ChildrenCount == 1 && document.Tables.ChildrenCount == 0)
                return document.KeyValues.First().Value;
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            fault = $"'{text}' cannot be read as a value of '{key.Key}' ({e.Message}).";
            return null;
        }
        fault = $"'{text}' cannot be read as a value of '{key.Key}'.";
        return null;
    }

    private static (string Name, int? Number) Split(string part)
    {
        int bracket = part.IndexOf('[', StringComparison.Ordinal);
        return
            bracket > 0
            && part[^1] == ']'
            && int.TryParse(part[(bracket + 1)..^1], NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? (part[..bracket], number)
            : (part, null);
    }
}
