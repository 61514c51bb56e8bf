using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[study]</c>.</summary>
public sealed record ValidateHeader
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "Name of the study, for titles.")]
    public string Name { get; init; } = "validation";

    /// <summary>Remarks.</summary>
    [ProcedureKey("note", "Remarks for people; printed with the statement.")]
    public string Note { get; init; } = "";

    /// <summary>Who answers for it.</summary>
    [ProcedureKey("responsible", "Who answers for the study; printed with the statement.")]
    public string Responsible { get; init; } = "";

    /// <summary>Version of this form of file.</summary>
    [ProcedureKey("format_version", "Version of this form of file.", Minimum = 1, Maximum = 1)]
    public int FormatVersion { get; init; } = 1;

    /// <summary>Seed of everything random.</summary>
    [ProcedureKey("seed", "Seed of everything random; the same seed gives the same statement.", Minimum = 0)]
    public long Seed { get; init; } = 1;
}
