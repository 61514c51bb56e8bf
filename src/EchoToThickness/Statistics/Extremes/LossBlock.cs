namespace EchoToThickness.Statistics.Extremes;

/// <summary>One block of a map.</summary>
/// <param name="Along">Number along.</param>
/// <param name="Around">Number around.</param>
/// <param name="MeasuredAreaSquareMetres">Area of its measured cells.</param>
/// <param name="MeasuredFraction">Measured cells over cells.</param>
/// <param name="DeepestCells">Its thinnest cells, the thinnest first, at most 8.</param>
public sealed record LossBlock(
    int Along,
    int Around,
    double MeasuredAreaSquareMetres,
    double MeasuredFraction,
    IReadOnlyList<int> DeepestCells
);
