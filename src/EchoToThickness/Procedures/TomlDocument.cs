namespace EchoToThickness.Procedures;

/// <summary>A record read from TOML, with the place of every key that the file held.</summary>
/// <typeparam name="T">The described record.</typeparam>
public sealed class TomlDocument<T>
{
    private readonly IReadOnlyDictionary<string, string> _places;

    internal TomlDocument(T value, string fileName, IReadOnlyDictionary<string, string> places)
    {
        Value = value;
        FileName = fileName;
        _places = places;
    }

    /// <summary>The record, defaults filled in.</summary>
    public T Value { get; }

    /// <summary>Name of the file, for messages.</summary>
    public string FileName { get; }

    /// <summary>File with line and column of a key; of its nearest section when the file does not hold it; else the file.</summary>
    /// <param name="key">Key with its sections, list entries counted from 1: <c>gate[2].start</c>.</param>
    public string PlaceOf(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        while (key.Length > 0)
        {
            if (_places.TryGetValue(key, out string? place))
                return place;
            key = key[..Math.Max(key.LastIndexOf('.'), 0)];
        }
        return FileName;
    }

    /// <summary>Gives findings about the record their place in the file.</summary>
    /// <param name="findings">Findings with keys.</param>
    public IReadOnlyList<ProcedureFinding> Locate(IEnumerable<ProcedureFinding> findings) =>
        findings.Select(finding => finding with { Place = PlaceOf(finding.Key) }).ToArray();

    /// <summary>The same places about another record: one made of sections of this one, so that its reader can name them.</summary>
    /// <typeparam name="TOther">Type of the other record.</typeparam>
    /// <param name="value">The other record.</param>
    public TomlDocument<TOther> With<TOther>(TOther value) => new(value, FileName, _places);
}
