namespace EchoToThickness.Components;

/// <summary>Repeatability of the scan, from the cells that two or more lines measured.</summary>
/// <param name="Pairs">Pairs of lines with an overlap.</param>
/// <param name="Cells">Pairs of values compared.</param>
/// <param name="RepeatabilityMetres">Robust deviation of one value: that of the differences over root 2. NaN without overlap.</param>
/// <param name="StatedNoiseMetres">What the grids state for the same cells: root mean square of the independent uncertainty.</param>
/// <param name="SmallestBiasMetres">Mean of smallest less mean value over the overlap cells: how far the rule "smallest" goes to the thin side there.</param>
/// <param name="ExpectedBiasMetres">What independent noise of the repeatability's size alone would give.</param>
public sealed record OverlapReport(
    IReadOnlyList<OverlapPair> Pairs,
    int Cells,
    double RepeatabilityMetres,
    double StatedNoiseMetres,
    double SmallestBiasMetres,
    double ExpectedBiasMetres
);
