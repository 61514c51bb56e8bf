using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>Section <c>[base]</c>: the procedure that a search begins with.</summary>
public sealed record TuneBase
{
    /// <summary>The file.</summary>
    [ProcedureKey("procedure", "Procedure file (TOML), beside the study; left out: the default procedure.")]
    public string? Procedure { get; init; }

    /// <summary>Changes.</summary>
    [ProcedureKey(
        "set",
        "Keys of it that this study changes for all rule sets, such as \"pairing.minimum_snr = 6 dB\"."
    )]
    public IReadOnlyList<string> Set { get; init; } = [];
}
