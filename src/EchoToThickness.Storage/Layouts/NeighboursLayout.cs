using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>
/// Neighbourhood told by a text in the file, for a family of files that one map reads: some hold scans over one geometry, others
/// separate cases. Where the text is in none of the lists, <c>samples.neighbours</c> holds.
/// </summary>
public sealed record NeighboursLayout
{
    /// <summary>Attribute, <c>object@name</c>, whose text tells; null for none.</summary>
    [ProcedureKey("attribute", "Text attribute, 'object@name', that tells which cells lie side by side.")]
    public string? Attribute { get; init; }

    /// <summary>Texts that mean both axes.</summary>
    [ProcedureKey(
        "both",
        "Texts of the attribute for which consecutive scan positions and consecutive beams lie side by side."
    )]
    public IReadOnlyList<string> Both { get; init; } = [];

    /// <summary>Texts that mean the scan axis only.</summary>
    [ProcedureKey("scan", "Texts for which only consecutive scan positions lie side by side.")]
    public IReadOnlyList<string> Scan { get; init; } = [];

    /// <summary>Texts that mean the beam axis only.</summary>
    [ProcedureKey("beam", "Texts for which only consecutive beams lie side by side.")]
    public IReadOnlyList<string> Beam { get; init; } = [];

    /// <summary>Texts that mean unrelated cells.</summary>
    [ProcedureKey("none", "Texts for which cells are unrelated.")]
    public IReadOnlyList<string> None { get; init; } = [];
}
