using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Section <c>[positions]</c>: where the cells lie.</summary>
public sealed record PositionsLayout
{
    /// <summary>Scan positions.</summary>
    [ProcedureKey("scan", "Encoder position of every scan position.")]
    public ValueSource? Scan { get; init; }

    /// <summary>Index positions.</summary>
    [ProcedureKey("index", "Index position of every beam.")]
    public ValueSource? Index { get; init; }
}
