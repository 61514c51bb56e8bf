using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Section <c>[[stack]]</c>: stored stacks with truth.</summary>
public sealed record StackSettings
{
    /// <summary>Name in tables.</summary>
    [ProcedureKey("name", "Name in tables and figures.")]
    public string Name { get; init; } = "stacks";

    /// <summary>The files.</summary>
    [ProcedureKey("files", "Stack files or folders, beside the study; each is a point of its own.", Required = true)]
    public IReadOnlyList<string> Files { get; init; } = [];

    /// <summary>Layout map for foreign files.</summary>
    [ProcedureKey("layout", "Layout map (TOML) for foreign files; left out: native stacks.")]
    public string? Layout { get; init; }

    /// <summary>Drawing of the reference block.</summary>
    [ProcedureKey(
        "drawing",
        "Drawing (TOML) of the reference block that was scanned, see docs/reference-blocks.md; left out: the stack holds its own truth."
    )]
    public string? Drawing { get; init; }

    /// <summary>Procedure whose walls the scan is laid on the drawing with.</summary>
    [ProcedureKey(
        "registration_procedure",
        "With a drawing: procedure (TOML) whose walls the scan is laid on it with; left out: the default procedure."
    )]
    public string? RegistrationProcedure { get; init; }

    /// <summary>What is drawn anew in the bootstrap.</summary>
    [ProcedureKey("resample", "What is independent of what: the bootstrap draws these.")]
    public ResampleChoice Resample { get; init; } = ResampleChoice.Cell;

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
