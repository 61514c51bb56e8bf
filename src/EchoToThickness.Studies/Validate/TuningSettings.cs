using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[tuning]</c>: what tuning has seen.</summary>
public sealed record TuningSettings
{
    /// <summary>Records.</summary>
    [ProcedureKey("records", "Records of tuning studies (tuning-record.json), beside the study.")]
    public IReadOnlyList<string> Records { get; init; } = [];

    /// <summary>Whether stacks that tuning saw may be used.</summary>
    [ProcedureKey("allow", "Use stacks that tuning has seen too; the statement then says so at its head.")]
    public bool Allow { get; init; }
}
