using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[procedure]</c>: what is validated.</summary>
public sealed record FrozenProcedure
{
    /// <summary>The file.</summary>
    [ProcedureKey("file", "Procedure file (TOML), beside the study; left out: the default procedure.")]
    public string? File { get; init; }

    /// <summary>SHA-256 that it must have.</summary>
    [ProcedureKey(
        "sha256",
        "SHA-256 that 'ett procedure check' prints for it; another procedure is refused. Left out: the statement says that it was not frozen beforehand."
    )]
    public string? Sha256 { get; init; }
}
