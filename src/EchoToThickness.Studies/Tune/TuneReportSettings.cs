using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>Section <c>[report]</c> of a search.</summary>
public sealed record TuneReportSettings
{
    /// <summary>Forms of figures.</summary>
    [ProcedureKey("figures", "Forms in which figures are drawn: \"png\", \"svg\"; an empty list for none.")]
    public IReadOnlyList<string> Figures { get; init; } = ["png"];

    /// <summary>Rows of the ranked table for people.</summary>
    [ProcedureKey(
        "rows",
        "Rows of the ranked table in results.md; the other files hold all.",
        Minimum = 1,
        Maximum = 10_000
    )]
    public int Rows { get; init; } = 20;

    /// <summary>A-scans drawn.</summary>
    [ProcedureKey(
        "worst",
        "A-scans that the chosen procedure measures worst, drawn with every decision.",
        Minimum = 0,
        Maximum = 100
    )]
    public int Worst { get; init; } = 10;

    /// <summary>Stacks of which maps are drawn.</summary>
    [ProcedureKey(
        "maps",
        "Stacks of which maps of what breaks where are drawn, worst first.",
        Minimum = 0,
        Maximum = 100
    )]
    public int Maps { get; init; } = 4;
}
