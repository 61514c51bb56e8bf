using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Section <c>[study]</c>.</summary>
public sealed record StudyHeader
{
    /// <summary>Name, for titles.</summary>
    [ProcedureKey("name", "Name of the study, for titles.")]
    public string Name { get; init; } = "comparison";

    /// <summary>Remarks for people.</summary>
    [ProcedureKey("note", "Remarks for people; printed with the results.")]
    public string Note { get; init; } = "";

    /// <summary>Version of this form of file.</summary>
    [ProcedureKey("format_version", "Version of this form of file.", Minimum = 1, Maximum = 1)]
    public int FormatVersion { get; init; } = 1;

    /// <summary>Seed of everything random.</summary>
    [ProcedureKey("seed", "Seed of everything random; the same seed gives the same results.", Minimum = 0)]
    public long Seed { get; init; } = 1;

    /// <summary>Records or scenes a point.</summary>
    [ProcedureKey(
        "repeats",
        "Monte Carlo repeats at each point: records of a plate; scenes are repeated as often as their own 'repeats' says.",
        Minimum = 1,
        Maximum = 10_000_000
    )]
    public int Repeats { get; init; } = 200;
}
