namespace EchoToThickness.Components;

/// <summary>Area below a wall by probability, with the second wall of a cell; square metres of true area.</summary>
/// <param name="ThresholdMetres">The wall.</param>
/// <param name="ExpectedSquareMetres">
/// Every measured value counts with its probability of being below: that of its wall and, with the share of the second wall, that of the second; a cell of
/// the map with several values counts with their mean. Free of the thin side that the rule 'smallest' leans to.
/// </param>
/// <param name="AtMostSquareMetres">
/// Every cell counts of which any value lies below, or the second wall where a neighbour measures that wall.
/// </param>
/// <param name="TwoWallsSquareMetres">Area of the cells on which the two walls disagree about the threshold.</param>
public sealed record BelowArea(
    double ThresholdMetres,
    double ExpectedSquareMetres,
    double AtMostSquareMetres,
    double TwoWallsSquareMetres
);
