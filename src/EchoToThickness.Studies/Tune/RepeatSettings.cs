using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>One <c>[[repeat]]</c>: two stacks that are scans of the same place.</summary>
public sealed record RepeatSettings
{
    /// <summary>One of them.</summary>
    [ProcedureKey("first", "A file of a [[stack]], as it is written there.", Required = true)]
    public string First { get; init; } = "";

    /// <summary>The other.</summary>
    [ProcedureKey("second", "Another file; as many cells, one line each.", Required = true)]
    public string Second { get; init; } = "";
}
