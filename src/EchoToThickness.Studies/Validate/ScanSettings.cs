using EchoToThickness.Procedures;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[[scan]]</c>: scans of one block under the same conditions.</summary>
public sealed record ScanSettings
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "Name in tables; each entry has its own.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>Stacks.</summary>
    [ProcedureKey("files", "Stack files or folders, beside the study; each is a scan of its own.")]
    public IReadOnlyList<string> Files { get; init; } = [];

    /// <summary>A simulated scan.</summary>
    [ProcedureKey(
        "scene",
        "Instead of files: a scene file, or the name of a shipped scenario, that is scanned 'repeats' times."
    )]
    public string? Scene { get; init; }

    /// <summary>Repeats of the scene.</summary>
    [ProcedureKey(
        "repeats",
        "How often the scene is scanned; the block stays the same, noise and coupling are new each time.",
        Minimum = 1,
        Maximum = 1000
    )]
    public int Repeats { get; init; } = 1;

    /// <summary>Keys of the scene that are changed.</summary>
    [ProcedureKey("set", "Keys of the scene that are changed, such as \"instrument.gain = 35 %\".")]
    public IReadOnlyList<string> Set { get; init; } = [];

    /// <summary>Layout map.</summary>
    [ProcedureKey("layout", "Layout map (TOML) for foreign files; left out: native stacks.")]
    public string? Layout { get; init; }

    /// <summary>Drawing.</summary>
    [ProcedureKey(
        "drawing",
        "Drawing (TOML) of the block, open or sealed; left out: the stack holds its own truth, and nothing is said of detection."
    )]
    public string? Drawing { get; init; }

    /// <summary>What is independent where there is no drawing.</summary>
    [ProcedureKey("resample", "Without a drawing: which cells belong together; they count as one.")]
    public ResampleChoice Resample { get; init; } = ResampleChoice.Scan;

    /// <summary>Conditions.</summary>
    [ProcedureKey("conditions", "Level of each factor, such as [\"operator = A\", \"gain = -6 dB\"].")]
    public IReadOnlyList<string> Conditions { get; init; } = [];
}
