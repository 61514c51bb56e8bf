namespace EchoToThickness.Procedures;

/// <summary>A key of a described file set from outside the file: by a study's sweep, by a study's method.</summary>
/// <param name="Key">Key with its sections, list entries counted from 1: <c>gate[2].start</c>.</param>
/// <param name="Value">The value as text without outer quotes (<c>8.6 mm</c>, <c>train</c>, <c>12</c>); a list as TOML writes it.</param>
/// <param name="Place">Where the override itself is written, for messages.</param>
public sealed record TomlOverride(string Key, string Value, string Place);
