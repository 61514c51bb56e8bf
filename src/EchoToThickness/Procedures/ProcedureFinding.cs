namespace EchoToThickness.Procedures;

/// <summary>One fault of a procedure (or of another file of the same form): what, where and how to put it right.</summary>
/// <param name="Key">Key with its sections, list entries counted from 1: <c>gate[2].start</c>; empty for the file as a whole.</param>
/// <param name="What">What is wrong, with the value found and the range allowed.</param>
/// <param name="Remedy">What the user can do.</param>
public sealed record ProcedureFinding(string Key, string What, string Remedy)
{
    /// <summary>File with line and column, <c>proc.toml(3,1)</c>; empty when the procedure did not come from a file.</summary>
    public string Place { get; init; } = "";

    /// <summary>Place and key, as far as known.</summary>
    public string Where =>
        Key.Length == 0 ? (Place.Length == 0 ? "the procedure" : Place)
        : Place.Length == 0 ? "key " + Key
        : $"{Place}, key {Key}";
}
