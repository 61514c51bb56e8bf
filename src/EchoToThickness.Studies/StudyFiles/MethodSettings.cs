using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Section <c>[[method]]</c>: a procedure that takes part.</summary>
public sealed record MethodSettings
{
    /// <summary>Name in tables.</summary>
    [ProcedureKey("name", "Name in tables and figures.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>The procedure file.</summary>
    [ProcedureKey("procedure", "Procedure file (TOML), beside the study; left out: the default procedure.")]
    public string? Procedure { get; init; }

    /// <summary>Keys of the procedure that the study changes.</summary>
    [ProcedureKey("set", "Keys of the procedure that this method changes, such as \"pairing.minimum_snr = 6 dB\".")]
    public IReadOnlyList<string> Set { get; init; } = [];

    /// <summary>Which echoes its bound may use.</summary>
    [ProcedureKey(
        "bound",
        "Which echoes the Cramér-Rao bound of this method may use, for its ratio and threshold; left out: the plate's, and the whole record of scenes."
    )]
    public BoundChoice? Bound { get; init; }
}
