using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>Section <c>[study]</c> of a search.</summary>
public sealed record TuneHeader
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "Name of the study, for titles and for the winning procedure.")]
    public string Name { get; init; } = "tuning";

    /// <summary>Remarks.</summary>
    [ProcedureKey("note", "Remarks for people; printed with the results.")]
    public string Note { get; init; } = "";

    /// <summary>Version of the form.</summary>
    [ProcedureKey("format_version", "Version of this form of file.", Minimum = 1, Maximum = 1)]
    public int FormatVersion { get; init; } = 1;

    /// <summary>Seed.</summary>
    [ProcedureKey(
        "seed",
        "Seed of the search and of simulated scans; the same seed gives the same results.",
        Minimum = 0
    )]
    public long Seed { get; init; } = 1;
}
