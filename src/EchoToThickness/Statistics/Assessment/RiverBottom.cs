using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Statistics.Assessment;

/// <summary>The river-bottom profile: largest depth at each place of one axis, taken from a map.</summary>
/// <param name="PositionsMetres">Shape [point], ascending; only places with a measured cell.</param>
/// <param name="DepthsMetres">Shape [point]: nominal wall less smallest wall, not below zero.</param>
/// <param name="MissingPlaces">Places without a measured cell, left out: the profile runs straight across them.</param>
public sealed record RiverBottom(
    IReadOnlyList<double> PositionsMetres,
    IReadOnlyList<double> DepthsMetres,
    int MissingPlaces
)
{
    /// <summary>Takes the profile from a map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="nominalWallMetres">Wall from which depth is counted.</param>
    /// <param name="along">True: a depth at every place along (the longitudinal profile); false: around.</param>
    public static RiverBottom Of(ThicknessMap map, double nominalWallMetres, bool along)
    {
        SmallestWallProfile profile = MapDescriber.Profile(map, along);
        var positions = new List<double>();
        var depths = new List<double>();
        for (int k = 0; k < profile.PositionsMetres.Count; k++)
        {
            if (profile.CellIndex[k] < 0)
                continue;
            positions.Add(profile.PositionsMetres[k]);
            depths.Add(Math.Max(0, nominalWallMetres - profile.ThicknessMetres[k]));
        }
        return new RiverBottom(positions, depths, profile.PositionsMetres.Count - positions.Count);
    }
}
