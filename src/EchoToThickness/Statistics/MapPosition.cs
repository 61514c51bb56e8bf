namespace EchoToThickness.Statistics;

/// <summary>Place of a cell.</summary>
/// <param name="Along">Index along.</param>
/// <param name="Around">Index around.</param>
/// <param name="AlongMetres">Distance along the reference line.</param>
/// <param name="AroundMetres">Distance around the section.</param>
public readonly record struct MapPosition(int Along, int Around, double AlongMetres, double AroundMetres);
