using System.Globalization;
using System.Text;
using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace EchoToThickness.Procedures;

/// <summary>
/// Changes single values in the text of a described file (procedure, scene, layout map) and leaves every other character of it, comments
/// and order included, as its author wrote it.
/// </summary>
/// <remarks>
/// Keys are written with their sections, list entries counted from 1: <c>gate[2].start</c>. Values are text without outer quotes, as
/// <see cref="TomlBinder.Values{T}"/> gives them; a list as TOML writes it. Only the form of a value is checked here; what it may be is checked when the new text
/// is read.
/// </remarks>
public static class TomlEditor
{
    /// <summary>Sets a key: its value is replaced where it stands, or the key is added behind the last one of its section.</summary>
    /// <typeparam name="T">The described record.</typeparam>
    /// <param name="toml">Text of the file.</param>
    /// <param name="key">Key.</param>
    /// <param name="value">New value.</param>
    /// <returns>The new text.</returns>
    /// <exception cref="ProcedureException">The text is no TOML, there is no such key or list entry, or the value has no form in TOML.</exception>
    public static string Set<T>(string toml, string key, string value)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(toml);
        ArgumentNullException.ThrowIfNull(key);
        ArgumentNullException.ThrowIfNull(value);
        Validate<T>(toml, key, value);
        string literal = TomlPatch.Literal(KeyOf(typeof(T), key), value);
        var layout = new TomlLayout(Syntax(toml), toml.Length);
        if (layout.Values.TryGetValue(key, out ValueSyntax? old))
            return Replace(toml, old.Span, literal);
        (string section, string name) = Split(key);
        return Insert(toml, layout, section, name, literal);
    }

    /// <summary>Removes a key's line, so that its default holds; a text without the key is returned as it is.</summary>
    /// <typeparam name="T">The described record.</typeparam>
    /// <param name="toml">Text of the file.</param>
    /// <param name="key">Key of a value, not of a section.</param>
    /// <exception cref="ProcedureException">The text is no TOML, or the key stands inside a table written on one line.</exception>
    public static string Clear<T>(string toml, string key)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(toml);
        ArgumentNullException.ThrowIfNull(key);
        _ = KeyOf(typeof(T), key);
        var layout = new TomlLayout(Syntax(toml), toml.Length);
        if (layout.Lines.TryGetValue(key, out SourceSpan line))
            return toml.Remove(line.Start.Offset, Math.Min(line.End.Offset + 1, toml.Length) - line.Start.Offset);
        if (layout.Values.ContainsKey(key))
            throw new ProcedureException(
                $"'{key}' stands inside a table written on one line.",
                key,
                "write the table with a [section] header and one key a line."
            );
        return toml;
    }

    /// <summary>Adds an entry to a list of tables, behind the last one.</summary>
    /// <typeparam name="T">The described record.</typeparam>
    /// <param name="toml">Text of the file.</param>
    /// <param name="list">Key of the list, such as <c>gate</c>.</param>
    /// <param name="values">Keys of the entry and their values.</param>
    /// <exception cref="ProcedureException">The text is no TOML, or there is no such list or key.</exception>
    public static string AddEntry<T>(string toml, string list, IReadOnlyList<(string Key, string Value)> values)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(toml);
        ArgumentNullException.ThrowIfNull(list);
        ArgumentNullException.ThrowIfNull(values);
        KeyDescription description = KeyOf(typeof(T), list);
        if (!description.IsSection || !description.IsList)
            throw new ProcedureException($"'{list}' is no list of tables.", list, "name a list, such as 'gate'.");
        var layout = new TomlLayout(Syntax(toml), toml.Length);
        var entry = new StringBuilder().Append("[[").Append(list).Append("]]\n");
        foreach ((string key, string value) in values)
            entry
                .Append(key)
                .Append(" = ")
                .Append(TomlPatch.Literal(KeyOf(description.ValueType, key), value))
                .Append('\n');
        int count = layout.CountOf(list);
        int at =
            count > 0 && layout.EntryEnd(string.Create(CultureInfo.InvariantCulture, $"{list}[{count}]")) is { } end
                ? end
                : toml.Length;
        string before = toml[..at];
        string after = toml[at..];
        string gap = before.Length == 0 || before.EndsWith("\n\n", StringComparison.Ordinal) ? "" : "\n";
        string text = Ended(before) + gap + entry + (after.Length > 0 && after[0] is not '\n' ? "\n" : "") + after;
        _ = Syntax(text);
        return text;
    }

    /// <summary>Removes an entry of a list of tables, from its header to the last of its keys.</summary>
    /// <typeparam name="T">The described record.</typeparam>
    /// <param name="toml">Text of the file.</param>
    /// <param name="entry">The entry, such as <c>gate[2]</c>.</param>
    /// <exception cref="ProcedureException">The text is no TOML, or the file has no such entry under a header of its own.</exception>
    public static string RemoveEntry<T>(string toml, string entry)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(toml);
        ArgumentNullException.ThrowIfNull(entry);
        var layout = new TomlLayout(Syntax(toml), toml.Length);
        if (
            !entry.EndsWith(']')
            || layout.SectionStart(entry) is not { } start
            || layout.EntryEnd(entry) is not { } end
        )
            throw new ProcedureException(
                $"The file has no entry '{entry}' under a header of its own.",
                entry,
                "name one that it has, counted from 1."
            );
        string before = toml[..start];
        string after = toml[end..];
        // The blank line between the entry and the next leaves with it.
        if (after.StartsWith('\n') && (before.Length == 0 || before.EndsWith("\n\n", StringComparison.Ordinal)))
            after = after[1..];
        return before + after;
    }

    private static string Replace(string toml, SourceSpan span, string literal) =>
        string.Concat(toml.AsSpan(0, span.Start.Offset), literal, toml.AsSpan(span.End.Offset + 1));

    private static string Insert(string toml, TomlLayout layout, string section, string name, string literal)
    {
        string line = $"{name} = {literal}\n";
        string text;
        if (layout.SectionEnd(section) is { } end)
            text = Ended(toml[..end]) + line + toml[end..];
        else if (layout.Inline.TryGetValue(section, out InlineTableSyntax? inline))
        {
            int brace = inline.Span.End.Offset;
            string comma = inline.Items.ChildrenCount > 0 ? ", " : " ";
            text = $"{toml[..brace].TrimEnd()}{comma}{name} = {literal} {toml[brace..]}";
        }
        else if (layout.DottedEnd(section) is { } dotted)
            text = Ended(toml[..dotted.Offset]) + dotted.Prefix + line + toml[dotted.Offset..];
        else
            text = Ended(toml) + (toml.Length == 0 ? "" : "\n") + $"[{section}]\n" + line;
        _ = Syntax(text);
        return text;
    }

    private static string Ended(string text) => text.Length == 0 || text.EndsWith('\n') ? text : text + "\n";

    private static (string Section, string Name) Split(string key)
    {
        int dot = key.LastIndexOf('.');
        return dot < 0 ? ("", key) : (key[..dot], key[(dot + 1)..]);
    }

    private static void Validate<T>(string toml, string key, string value)
    {
        var findings = new List<ProcedureFinding>();
        TomlTable tree = TomlTree.Build(toml, "", findings);
        if (findings.Count == 0)
            TomlPatch.Apply(typeof(T), tree, new TomlOverride(key, value, ""), findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
    }

    private static DocumentSyntax Syntax(string toml)
    {
        var findings = new List<ProcedureFinding>();
        _ = TomlTree.Build(toml, "", findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        return SyntaxParser.Parse(toml, new TomlSerializerOptions { MaxDepth = 32 }, "", validate: true);
    }

    private static KeyDescription KeyOf(Type root, string path)
    {
        Type type = root;
        KeyDescription? found = null;
        foreach (string part in path.Split('.'))
        {
            string name = part.Split('[')[0];
            found = found is { IsSection: false } ? null : KeyDescription.Of(type).FirstOrDefault(k => k.Key == name);
            if (found is null)
                throw new ProcedureException($"There is no key '{path}'.", path, "use a key of the reference page.");
            type = found.ValueType;
        }
        return found!;
    }
}
