using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Section <c>[[scene]]</c>: a simulated scan from a scene file.</summary>
public sealed record SceneSettings
{
    /// <summary>Name in tables.</summary>
    [ProcedureKey("name", "Name in tables and figures; left out: the file's.")]
    public string Name { get; init; } = "";

    /// <summary>The scene file.</summary>
    [ProcedureKey("file", "Scene file (TOML), beside the study.", Required = true)]
    public string File { get; init; } = "";

    /// <summary>How often the scene is made, each time with another seed.</summary>
    [ProcedureKey(
        "repeats",
        "How often the scene is made, each time with a seed of its own.",
        Minimum = 1,
        Maximum = 100_000
    )]
    public int Repeats { get; init; } = 1;

    /// <summary>Keys of the scene that the study changes.</summary>
    [ProcedureKey("set", "Keys of the scene that this study changes, such as \"instrument.bits = 8\".")]
    public IReadOnlyList<string> Set { get; init; } = [];

    /// <summary>What is drawn anew in the bootstrap.</summary>
    [ProcedureKey("resample", "What is independent of what: the bootstrap draws these.")]
    public ResampleChoice Resample { get; init; } = ResampleChoice.Block;

    /// <summary>Scan positions of a block.</summary>
    [ProcedureKey(
        "block_scans",
        "For resample = \"block\": scan positions of a block.",
        Minimum = 1,
        Maximum = 100_000
    )]
    public int BlockScans { get; init; } = 10;

    /// <summary>Beams of a block.</summary>
    [ProcedureKey("block_beams", "For resample = \"block\": beams of a block.", Minimum = 1, Maximum = 100_000)]
    public int BlockBeams { get; init; } = 10;
}
