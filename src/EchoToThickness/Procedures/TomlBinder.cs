namespace EchoToThickness.Procedures;

/// <summary>
/// Reads and writes any record whose properties carry <see cref="ProcedureKeyAttribute"/>: procedures, layout maps, scenes.
/// The attributes are the only description; reader, writer, reference page and help all use them.
/// </summary>
/// <remarks>
/// Forms of a value: <c>true</c>/<c>false</c>; a whole number for <see cref="int"/> and <see cref="long"/>; a number for
/// <see cref="double"/> without a dimension; <c>"8.6 mm"</c> for <see cref="double"/> with one; text; the word of a
/// <see cref="ChoiceAttribute"/> for an enumeration; the own text of an <see cref="Units.ITextValue{TSelf}"/>; a table for a
/// record; an array, or an array of tables, for <see cref="IReadOnlyList{T}"/> of these. A nullable property is null when its key
/// is left out. Records need a constructor without parameters; its property values are the defaults.
/// </remarks>
public static class TomlBinder
{
    /// <summary>Reads a record and keeps the place of every key.</summary>
    /// <typeparam name="T">A described record.</typeparam>
    /// <param name="toml">Text of the file; an empty text gives all defaults.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">
    /// Every fault at once where possible: syntax, unknown keys (with the nearest known one), wrong types, missing units, other
    /// dimensions, values out of range, missing required keys; each with file, line and column, and the fix.
    /// </exception>
    public static TomlDocument<T> Read<T>(string toml, string fileName)
        where T : class => Read<T>(toml, fileName, []);

    /// <summary>The same with keys set from outside, in order; they replace what the file says.</summary>
    /// <typeparam name="T">A described record.</typeparam>
    /// <param name="toml">Text of the file; an empty text gives all defaults.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <param name="overrides">Keys and values; faults of these name their own place.</param>
    /// <exception cref="ProcedureException">As above; also an override of a key or list entry that does not exist.</exception>
    public static TomlDocument<T> Read<T>(string toml, string fileName, IReadOnlyList<TomlOverride> overrides)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(toml);
        ArgumentNullException.ThrowIfNull(fileName);
        ArgumentNullException.ThrowIfNull(overrides);
        var findings = new List<ProcedureFinding>();
        TomlTable root = TomlTree.Build(toml, fileName, findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        foreach (TomlOverride change in overrides)
            TomlPatch.Apply(typeof(T), root, change, findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        var places = overrides.GroupBy(o => o.Key).ToDictionary(group => group.Key, group => group.Last().Place);
        var reader = new TomlReader(typeof(T));
        object value = reader.ReadRecord(typeof(T), root, "");
        if (reader.Findings.Count > 0)
            throw new ProcedureException([
                .. reader.Findings.Select(f =>
                    places.TryGetValue(f.Key, out string? place) ? f with { Place = place } : f
                ),
            ]);
        var all = new Dictionary<string, string>(reader.Places);
        foreach ((string key, string place) in places)
            all[key] = place;
        return new TomlDocument<T>((T)value, fileName, all);
    }

    /// <summary>Writes a record with every default, in declaration order, so that <see cref="Read{T}(string, string)"/> gives back an equal one.</summary>
    /// <typeparam name="T">A described record.</typeparam>
    /// <param name="value">The record.</param>
    /// <param name="withComments">Whether each key carries its description as a comment.</param>
    /// <returns>TOML with line feeds; the same record always gives the same text.</returns>
    /// <exception cref="ArgumentException">A number is not finite, or text holds half of a surrogate pair.</exception>
    public static string Write<T>(T value, bool withComments = false)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(value);
        var writer = new TomlWriter(withComments);
        writer.WriteRecord(value, "");
        return writer.ToString();
    }

    /// <summary>Every value of a record as text, by its full key: what overrides and <see cref="TomlEditor"/> take.</summary>
    /// <typeparam name="T">A described record.</typeparam>
    /// <param name="value">The record.</param>
    /// <returns>
    /// Keys with their sections, list entries counted from 1 (<c>gate[2].start</c>), in declaration order. Text without outer quotes, a list as TOML
    /// writes it; keys that are left out (null) are missing.
    /// </returns>
    public static IReadOnlyDictionary<string, string> Values<T>(T value)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(value);
        var values = new Dictionary<string, string>();
        Collect(value, "", values);
        return values;
    }

    /// <summary>One value as text without outer quotes, a list as TOML writes it.</summary>
    /// <param name="key">Its key; not a section.</param>
    /// <param name="value">The value.</param>
    public static string TextOf(KeyDescription key, object value)
    {
        ArgumentNullException.ThrowIfNull(key);
        ArgumentNullException.ThrowIfNull(value);
        return TomlWriter.PlainText(key, value);
    }

    private static void Collect(object record, string path, Dictionary<string, string> values)
    {
        foreach (KeyDescription key in KeyDescription.Of(record.GetType()))
        {
            if (key.Property.GetValue(record) is not { } value)
                continue;
            string name = path.Length == 0 ? key.Key : path + "." + key.Key;
            if (!key.IsSection)
            {
                values[name] = TomlWriter.PlainText(key, value);
                continue;
            }
            if (!key.IsList)
            {
                Collect(value, name, values);
                continue;
            }
            int number = 0;
            foreach (object item in (System.Collections.IEnumerable)value)
                Collect(
                    item,
                    string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{name}[{++number}]"),
                    values
                );
        }
    }
}
