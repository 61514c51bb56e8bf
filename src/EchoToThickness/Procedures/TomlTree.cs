using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace EchoToThickness.Procedures;

/// <summary>A TOML table with the place of each key.</summary>
internal sealed class TomlTable(SourceSpan span)
{
    /// <summary>Where the table begins.</summary>
    public SourceSpan Span { get; } = span;

    /// <summary>Entries in file order.</summary>
    public List<TomlEntry> Entries { get; } = [];

    private readonly Dictionary<string, TomlEntry> _byName = [];

    public TomlEntry? Find(string name) => _byName.GetValueOrDefault(name);

    public TomlEntry FindOrAdd(string name, SourceSpan at)
    {
        if (_byName.TryGetValue(name, out TomlEntry? entry))
            return entry;
        entry = new TomlEntry(name, at);
        _byName.Add(name, entry);
        Entries.Add(entry);
        return entry;
    }
}

/// <summary>A key with its value: a <see cref="TomlTable"/>, a list of tables, or a <see cref="ValueSyntax"/>.</summary>
internal sealed class TomlEntry(string name, SourceSpan span)
{
    public string Name { get; } = name;
    public SourceSpan Span { get; } = span;
    public TomlTable? Table { get; set; }
    public List<TomlTable>? Tables { get; set; }
    public ValueSyntax? Value { get; set; }
}

/// <summary>TOML text to a tree of tables; every fault of syntax with its place.</summary>
internal static class TomlTree
{
    private const int LargestText = 4 << 20;

    public static TomlTable Build(string toml, string fileName, List<ProcedureFinding> findings)
    {
        var empty = new TomlTable(new SourceSpan(fileName, default, default));
        if (toml.Length > LargestText)
        {
            findings.Add(
                new ProcedureFinding(
                    "",
                    $"The file holds {toml.Length} characters; at most {LargestText} are read.",
                    "give the TOML file, not the data."
                )
                {
                    Place = fileName,
                }
            );
            return empty;
        }
        try
        {
            // A stack overflow cannot be caught, so nesting is limited; the parser itself has leaked other exceptions on odd escapes.
            var options = new TomlSerializerOptions { MaxDepth = 32 };
            DocumentSyntax document = SyntaxParser.Parse(toml, options, fileName, validate: true);
            foreach (DiagnosticMessage message in document.Diagnostics)
                if (message.Kind == DiagnosticMessageKind.Error)
                    findings.Add(Fault(message.Span, message.Message.TrimEnd('.') + "."));
            return findings.Count > 0 ? empty : Tree(document);
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            if (findings.Count == 0)
                findings.Add(
                    new ProcedureFinding("", "The text cannot be read as TOML: " + e.Message, "correct the syntax.")
                    {
                        Place = fileName,
                    }
                );
            return empty;
        }
    }

    /// <summary>File with line and column, counted from 1.</summary>
    public static string Place(SourceSpan span) =>
        string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"{span.FileName}({span.Start.Line + 1},{span.Start.Column + 1})"
        );

    private static ProcedureFinding Fault(SourceSpan span, string what) =>
        new("", what, "correct the TOML syntax at that place.") { Place = Place(span) };

    private static TomlTable Tree(DocumentSyntax document)
    {
        var root = new TomlTable(document.Span);
        foreach (KeyValueSyntax pair in document.KeyValues)
            Add(root, pair);
        foreach (TableSyntaxBase header in document.Tables)
        {
            List<(string Name, SourceSpan Span)> path = Names(header.Name!);
            TomlTable parent = root;
            foreach ((string name, SourceSpan span) in path[..^1])
                parent = Descend(parent, name, span);
            (string last, SourceSpan lastSpan) = path[^1];
            TomlTable table;
            if (header is TableArraySyntax)
            {
                TomlEntry entry = parent.FindOrAdd(last, lastSpan);
                table = new TomlTable(lastSpan);
                (entry.Tables ??= []).Add(table);
            }
            else
            {
                table = Descend(parent, last, lastSpan);
            }
            foreach (KeyValueSyntax pair in header.Items)
                Add(table, pair);
        }
        return root;
    }

    private static void Add(TomlTable table, KeyValueSyntax pair)
    {
        List<(string Name, SourceSpan Span)> path = Names(pair.Key!);
        foreach ((string name, SourceSpan span) in path[..^1])
            table = Descend(table, name, span);
        TomlEntry entry = table.FindOrAdd(path[^1].Name, path[^1].Span);
        switch (pair.Value)
        {
            case InlineTableSyntax inline:
                entry.Table = Inline(inline, path[^1].Span);
                break;
            case ArraySyntax array
                when array.Items.ChildrenCount > 0 && array.Items.All(i => i.Value is InlineTableSyntax):
                entry.Tables = array
                    .Items.Select(item => Inline((InlineTableSyntax)item.Value!, item.Value!.Span))
                    .ToList();
                break;
            default:
                entry.Value = pair.Value;
                break;
        }
    }

    private static TomlTable Inline(InlineTableSyntax syntax, SourceSpan span)
    {
        var table = new TomlTable(span);
        foreach (InlineTableItemSyntax item in syntax.Items)
            if (item.KeyValue is { } pair)
                Add(table, pair);
        return table;
    }

    private static TomlTable Descend(TomlTable table, string name, SourceSpan span)
    {
        TomlEntry entry = table.FindOrAdd(name, span);
        if (entry.Tables is { Count: > 0 } tables)
            return tables[^1];
        return entry.Table ??= new TomlTable(span);
    }

    private static List<(string Name, SourceSpan Span)> Names(KeySyntax key)
    {
        var names = new List<(string, SourceSpan)> { (Text(key.Key!), key.Span) };
        foreach (DottedKeyItemSyntax dotted in key.DotKeys)
            names.Add((Text(dotted.Key!), dotted.Span));
        return names;
    }

    private static string Text(BareKeyOrStringValueSyntax key) =>
        key switch
        {
            StringValueSyntax quoted => quoted.Value ?? "",
            BareKeySyntax bare => bare.Key?.Text ?? "",
            _ => key.ToString() ?? "",
        };
}
