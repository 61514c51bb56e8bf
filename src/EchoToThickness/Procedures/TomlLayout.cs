using System.Globalization;
using Tomlyn.Syntax;

namespace EchoToThickness.Procedures;

/// <summary>Where in a text its keys and sections stand, by their full names with list entries counted from 1.</summary>
internal sealed class TomlLayout
{
    private readonly Dictionary<string, int> _counts = [];
    private readonly Dictionary<string, (int Start, int End)> _sections = [];
    private readonly Dictionary<string, (int Offset, string Prefix)> _dotted = [];

    public TomlLayout(DocumentSyntax document, int length)
    {
        foreach (KeyValueSyntax pair in document.KeyValues)
            Add("", pair);
        foreach (TableSyntaxBase header in document.Tables)
        {
            string path = PathOf(header);
            int end = header.EndOfLineToken is { } line ? line.Span.End.Offset + 1 : header.Span.End.Offset + 1;
            foreach (KeyValueSyntax pair in header.Items)
            {
                Add(path, pair);
                end = pair.Span.End.Offset + 1;
            }
            _sections[path] = (header.OpenBracket!.Span.Start.Offset, Math.Min(end, length));
        }
    }

    /// <summary>Values of keys.</summary>
    public Dictionary<string, ValueSyntax> Values { get; } = [];

    /// <summary>Whole lines of keys that stand on lines of their own, line end and trailing comment included.</summary>
    public Dictionary<string, SourceSpan> Lines { get; } = [];

    /// <summary>Tables written on one line.</summary>
    public Dictionary<string, InlineTableSyntax> Inline { get; } = [];

    public int CountOf(string list) => _counts.GetValueOrDefault(list);

    public int? SectionStart(string section) =>
        _sections.TryGetValue(section, out (int Start, int End) place) ? place.Start : null;

    /// <summary>Offset behind the last key of a section that has a header.</summary>
    public int? SectionEnd(string section) =>
        _sections.TryGetValue(section, out (int Start, int End) place) ? place.End : null;

    /// <summary>Offset behind the last key of a list's entry and of all tables under it.</summary>
    public int? EntryEnd(string entry)
    {
        int? end = null;
        foreach ((string section, (_, int sectionEnd)) in _sections)
        {
            if (section == entry || section.StartsWith(entry + ".", StringComparison.Ordinal))
                end = Math.Max(end ?? 0, sectionEnd);
        }
        return end;
    }

    /// <summary>Offset behind the last dotted key of a section without a header, and how its keys begin.</summary>
    public (int Offset, string Prefix)? DottedEnd(string section) =>
        _dotted.TryGetValue(section, out (int, string) place) ? place : null;

    private string PathOf(TableSyntaxBase header)
    {
        string[] names = Names(header.Name!);
        string path = "";
        for (int i = 0; i < names.Length; i++)
        {
            path = Join(path, names[i]);
            bool last = i == names.Length - 1;
            if (last && header is TableArraySyntax)
                _counts[path] = CountOf(path) + 1;
            if (_counts.TryGetValue(path, out int count))
                path = string.Create(CultureInfo.InvariantCulture, $"{path}[{count}]");
        }
        return path;
    }

    private void Add(string section, KeyValueSyntax pair)
    {
        string[] names = Names(pair.Key!);
        string path = names.Aggregate(section, Join);
        Lines[path] = pair.Span;
        AddValue(path, pair.Value!);
        for (int depth = 1; depth < names.Length; depth++)
            _dotted[names[..depth].Aggregate(section, Join)] = (
                pair.Span.End.Offset + 1,
                string.Join('.', names[..depth]) + "."
            );
    }

    private void AddValue(string path, ValueSyntax value)
    {
        switch (value)
        {
            case InlineTableSyntax inline:
                Inline[path] = inline;
                foreach (InlineTableItemSyntax item in inline.Items)
                {
                    if (item.KeyValue is { } pair)
                        AddValue(Names(pair.Key!).Aggregate(path, Join), pair.Value!);
                }
                break;
            case ArraySyntax array when array.Items.Any(i => i.Value is InlineTableSyntax):
                int number = 0;
                foreach (ArrayItemSyntax item in array.Items)
                    AddValue(string.Create(CultureInfo.InvariantCulture, $"{path}[{++number}]"), item.Value!);
                break;
            default:
                Values[path] = value;
                break;
        }
    }

    private static string Join(string path, string name) => path.Length == 0 ? name : path + "." + name;

    private static string[] Names(KeySyntax key)
    {
        var names = new List<string> { Text(key.Key!) };
        foreach (DottedKeyItemSyntax dotted in key.DotKeys)
            names.Add(Text(dotted.Key!));
        return [.. names];
    }

    private static string Text(BareKeyOrStringValueSyntax key) =>
        key is StringValueSyntax quoted ? quoted.Value ?? "" : ((BareKeySyntax)key).Key?.Text ?? "";
}
