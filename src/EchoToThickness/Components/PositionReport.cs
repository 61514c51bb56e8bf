namespace EchoToThickness.Components;

/// <summary>What the overlaps say about positions.</summary>
/// <param name="Matches">Every pair of lines with an overlap.</param>
/// <param name="Faults">Faults found.</param>
/// <param name="Untold">Pairs whose overlap is too even to show a shift, in words: no fault found there means nothing.</param>
public sealed record PositionReport(
    IReadOnlyList<StripMatch> Matches,
    IReadOnlyList<PositionFault> Faults,
    IReadOnlyList<string> Untold
);
