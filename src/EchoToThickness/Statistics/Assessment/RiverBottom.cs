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

    /// <summary>The longitudinal profile of a part of a map, from outer edge to outer edge of its cells.</summary>
    /// <param name="map">The map.</param>
    /// <param name="nominalWallMetres">Wall from which depth is counted.</param>
    /// <param name="alongFirst">First index along.</param>
    /// <param name="alongLast">Last index along.</param>
    /// <param name="aroundFirst">First index around.</param>
    /// <param name="aroundLast">Last index around; at or above the number of cells where the part lies across the seam.</param>
    /// <remarks>The half cells at both ends carry the depth of their cell: the profile is as long as the part, not shorter by a cell.</remarks>
    public static RiverBottom OfPart(
        ThicknessMap map,
        double nominalWallMetres,
        int alongFirst,
        int alongLast,
        int aroundFirst,
        int aroundLast
    )
    {
        ArgumentNullException.ThrowIfNull(map);
        var positions = new List<double>();
        var depths = new List<double>();
        for (int i = alongFirst; i <= alongLast; i++)
        {
            double least = double.PositiveInfinity;
            for (int j = aroundFirst; j <= aroundLast; j++)
                if (map.ThicknessMetres[i * map.AroundCount + j % map.AroundCount] is var wall && wall < least)
                    least = wall;
            if (double.IsInfinity(least))
                continue;
            positions.Add(map.Axes.AlongMetres[i]);
            depths.Add(Math.Max(0, nominalWallMetres - least));
        }
        int missing = alongLast - alongFirst + 1 - positions.Count;
        if (positions.Count > 0)
        {
            double half = map.Axes.AlongPitchMetres / 2;
            positions.Insert(0, positions[0] - half);
            positions.Add(positions[^1] + half);
            depths.Insert(0, depths[0]);
            depths.Add(depths[^1]);
        }
        return new RiverBottom(positions, depths, missing);
    }
}
