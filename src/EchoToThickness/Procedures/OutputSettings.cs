namespace EchoToThickness.Procedures;

/// <summary>Section <c>[output]</c>: which layers the grid holds.</summary>
public sealed record OutputSettings
{
    /// <summary>Names of the layers; empty for all.</summary>
    [ProcedureKey("layers", "Layers written; left out: all. Status is always written.")]
    public IReadOnlyList<string> Layers { get; init; } = [];
}
