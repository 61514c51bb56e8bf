namespace EchoToThickness.Procedures;

/// <summary>Section <c>[procedure]</c>: what the file is.</summary>
public sealed record ProcedureHeader
{
    /// <summary>Format version of procedure files that this program reads.</summary>
    public const int CurrentFormat = 1;

    /// <summary>Format version of the file.</summary>
    [ProcedureKey("format", "Version of the procedure format; this program reads 1.", Minimum = 1, Maximum = 1)]
    public int Format { get; init; } = CurrentFormat;

    /// <summary>Name for people.</summary>
    [ProcedureKey("name", "Name of the procedure, for people.")]
    public string Name { get; init; } = "unnamed";

    /// <summary>Free text.</summary>
    [ProcedureKey("note", "Free text: purpose, author, revision.")]
    public string Note { get; init; } = "";
}
