using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>One <c>[[vary]]</c>: a range or a list of values of a key, or a list of sets of keys.</summary>
public sealed record VarySettings
{
    /// <summary>The key.</summary>
    [ProcedureKey(
        "key",
        "Key of the procedure with its sections, entries of a list counted from 1: \"gate[1].start\"."
    )]
    public string Key { get; init; } = "";

    /// <summary>Name in tables.</summary>
    [ProcedureKey("name", "Name in tables and figures; left out: the key.")]
    public string Name { get; init; } = "";

    /// <summary>Low end.</summary>
    [ProcedureKey(
        "from",
        "Low end of a range, as the procedure writes it: \"0.5 us\", \"4 x noise\", \"-12 dB of strongest\", \"3\"."
    )]
    public string? From { get; init; }

    /// <summary>High end.</summary>
    [ProcedureKey("to", "High end of the range, in the same unit.")]
    public string? To { get; init; }

    /// <summary>How the range is divided.</summary>
    [ProcedureKey("scale", "How the range is divided.")]
    public VaryScale Scale { get; init; } = VaryScale.Linear;

    /// <summary>Number of values.</summary>
    [ProcedureKey(
        "steps",
        "Number of values on the range, both ends included; left out: any value, and 5 in a grid.",
        Minimum = 2,
        Maximum = 10_000
    )]
    public int? Steps { get; init; }

    /// <summary>A list.</summary>
    [ProcedureKey(
        "values",
        "In place of a range: the values, as the procedure writes them, such as [\"rf\", \"envelope\"]."
    )]
    public IReadOnlyList<string> Values { get; init; } = [];

    /// <summary>Sets of keys.</summary>
    [ProcedureKey(
        "options",
        "In place of key and values: sets of keys that change together, each as \"name: key = value; key = value\"; no keys change nothing."
    )]
    public IReadOnlyList<string> Options { get; init; } = [];
}
