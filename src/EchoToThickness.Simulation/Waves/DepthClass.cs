namespace EchoToThickness.Simulation.Waves;

/// <summary>Points of the footprint of about the same depth.</summary>
/// <param name="DepthMetres">Their mean depth.</param>
/// <param name="NearerMetres">How far the thinnest lies before it.</param>
/// <param name="FartherMetres">How far the thickest lies behind it.</param>
/// <param name="Strength">Their echo over that of a flat wall, at the centre frequency.</param>
/// <param name="Share">The same if all of them had the mean depth: their share of the footprint.</param>
/// <param name="LowMetres">Smallest depth of the class.</param>
/// <param name="HighMetres">Depth below which they lie.</param>
internal readonly record struct DepthClass(
    double DepthMetres,
    double NearerMetres,
    double FartherMetres,
    double Strength,
    double Share,
    double LowMetres,
    double HighMetres
);
