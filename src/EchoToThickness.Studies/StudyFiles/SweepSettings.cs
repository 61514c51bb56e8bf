using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Section <c>[[sweep]]</c>: one key that is varied.</summary>
public sealed record SweepSettings
{
    /// <summary>The key.</summary>
    [ProcedureKey(
        "key",
        "Key of a plate, or of a scene with its sections (list entries counted from 1).",
        Required = true
    )]
    public string Key { get; init; } = "";

    /// <summary>The values.</summary>
    [ProcedureKey("values", "Values as text with their units, such as [\"10 dB\", \"20 dB\"].", Required = true)]
    public IReadOnlyList<string> Values { get; init; } = [];

    /// <summary>Which plate or scene.</summary>
    [ProcedureKey(
        "of",
        "Name of the plate or scene that is varied; left out: all plates, or all scenes if there is no plate."
    )]
    public string? Of { get; init; }
}
