using EchoToThickness.Components;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.EndToEnd.Tests.Recovery;

/// <summary>One true region and what was measured of it.</summary>
/// <param name="Truth">The true region.</param>
/// <param name="Found">The measured region that covers most of it; null where none does.</param>
/// <param name="Pieces">Measured regions that touch it.</param>
internal sealed record RegionRecovery(ThinRegion Truth, ThinRegion? Found, int Pieces)
{
    /// <summary>Measured less true smallest wall, metres.</summary>
    public double WallError => Found!.SmallestWallMetres - Truth.SmallestWallMetres;

    /// <summary>Measured less true length, metres.</summary>
    public double LengthError => Found!.LengthMetres - Truth.LengthMetres;

    /// <summary>Measured less true width, metres.</summary>
    public double WidthError => Found!.WidthMetres - Truth.WidthMetres;

    /// <summary>Measured less true area over the true one.</summary>
    public double AreaError => Found!.AreaSquareMetres / Truth.AreaSquareMetres - 1;

    /// <summary>Distance of the centroids on the surface, metres.</summary>
    /// <param name="surface">The component.</param>
    public double CentroidError(ComponentSurface surface)
    {
        double along =
            (Found!.CentroidAlongMetres - Truth.CentroidAlongMetres) * surface.Stretch(Truth.CentroidAroundMetres);
        double around = surface.WrapDifference(Found.CentroidAroundMetres - Truth.CentroidAroundMetres);
        return Math.Sqrt(along * along + around * around);
    }

    /// <summary>Matches measured regions to true ones by the cells they share; false ones are measured regions that touch no true one.</summary>
    /// <param name="truth">The true map.</param>
    /// <param name="truthRegions">Its regions.</param>
    /// <param name="raster">Raster of the measured map.</param>
    /// <param name="measured">Measured regions.</param>
    public static (IReadOnlyList<RegionRecovery> Regions, IReadOnlyList<ThinRegion> False) Match(
        TrueMap truth,
        RegionMap truthRegions,
        MapRaster raster,
        RegionMap measured
    )
    {
        var shared = new Dictionary<(int Truth, int Found), double>();
        for (int cell = 0; cell < truth.Map.Count; cell++)
        {
            int label = truthRegions.Labels[cell];
            int found = measured.Labels[raster.CellOf(truth.Raster.PlaceOf(cell))];
            if (label > 0 && found > 0)
                shared[(label, found)] = shared.GetValueOrDefault((label, found)) + truth.Map.AreaSquareMetres[cell];
        }
        List<RegionRecovery> regions = [];
        foreach (ThinRegion region in truthRegions.Regions)
        {
            var pieces = shared.Where(s => s.Key.Truth == region.Number).OrderByDescending(s => s.Value).ToList();
            regions.Add(
                new RegionRecovery(
                    region,
                    pieces.Count == 0 ? null : measured.Regions[pieces[0].Key.Found - 1],
                    pieces.Count
                )
            );
        }
        HashSet<int> touched = [.. shared.Keys.Select(k => k.Found)];
        return (regions, [.. measured.Regions.Where(r => !touched.Contains(r.Number))]);
    }
}
