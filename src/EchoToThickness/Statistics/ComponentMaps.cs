using EchoToThickness.Components;

namespace EchoToThickness.Statistics;

/// <summary>From lines put together on a component to the map that statistics take.</summary>
public static class ComponentMaps
{
    /// <summary>The map of a component, with true areas; positions along are those of the centre line, from the start of the bend.</summary>
    /// <param name="map">The stitched map.</param>
    /// <param name="smallest">Take the smallest credible wall of each cell in place of the rule's.</param>
    /// <param name="zone">Only this zone; cells elsewhere take no part. Null for all.</param>
    /// <remarks>
    /// Length factors along are those of the bend; on straight ends of an elbow the lengths (not the areas) of regions are off by that factor. A cell
    /// whose probability of a wrong echo is not known, such as an overruled one, counts with 0 where others are known.
    /// </remarks>
    public static ThicknessMap ToThicknessMap(this StitchedMap map, bool smallest = false, SurfaceZone? zone = null)
    {
        ArgumentNullException.ThrowIfNull(map);
        MapRaster raster = map.Raster;
        ComponentSurface surface = raster.Surface;
        double[] along = [.. Enumerable.Range(0, raster.AlongCount).Select(raster.AlongMetres)];
        double[] around = [.. Enumerable.Range(0, raster.AroundCount).Select(raster.AroundMetres)];
        var axes = new MapAxes(
            along,
            around,
            surface.IsClosed,
            surface.Torus is null ? default : around.Select(surface.Stretch).ToArray(),
            raster.AlongPitchMetres,
            raster.AroundPitchMetres
        );
        double[] wall = smallest ? map.SmallestMetres : map.ThicknessMetres;
        var status = (Pairing.CellStatus[])map.Status.Clone();
        bool knows = map.WrongEcho.Any(p => !double.IsNaN(p));
        for (int cell = 0; cell < status.Length; cell++)
        {
            if (zone is { } only && surface.ZoneOf(raster.PlaceOf(cell)) != only)
                status[cell] = Pairing.CellStatus.NotScanned;
            else if (double.IsNaN(wall[cell]) && status[cell] == Pairing.CellStatus.Measured)
                status[cell] = Pairing.CellStatus.AmbiguousPairing;
        }
        return new ThicknessMap(
            axes,
            wall,
            status,
            map.UncertaintyMetres,
            map.AreaSquareMetres,
            map.NoiseMetres,
            knows ? Array.ConvertAll(map.WrongEcho, p => double.IsNaN(p) ? 0 : Math.Clamp(p, 0, 1)) : default
        );
    }

    /// <summary>The map of one zone, cut out where that is a rectangle: extrados, cheeks and intrados of a bend, which then have edges of their own around.</summary>
    /// <param name="map">The stitched map.</param>
    /// <param name="zone">The zone; straight ends and a whole component keep the size of the map, cells elsewhere take no part.</param>
    /// <returns>Null where the zone holds no cell of the map.</returns>
    /// <remarks>Positions around ascend: those of the extrados before the seam are below zero.</remarks>
    public static ThicknessMap? ZoneMap(this StitchedMap map, SurfaceZone zone)
    {
        ArgumentNullException.ThrowIfNull(map);
        MapRaster raster = map.Raster;
        ComponentSurface surface = raster.Surface;
        if (zone is SurfaceZone.Whole or SurfaceZone.StraightEnds)
            return Enumerable.Range(0, raster.Count).Any(c => surface.ZoneOf(raster.PlaceOf(c)) == zone)
                ? map.ToThicknessMap(false, zone)
                : null;
        int[] rows = [.. Enumerable.Range(0, raster.AlongCount).Where(k => surface.IsOnBend(raster.AlongMetres(k)))];
        if (rows.Length == 0)
            return null;
        bool Holds(int column) => surface.ZoneOf(raster.PlaceOf(rows[0] * raster.AroundCount + column)) == zone;
        int n = raster.AroundCount;
        int first = Enumerable.Range(0, n).FirstOrDefault(k => Holds(k) && !Holds((k + n - 1) % n), -1);
        if (first < 0)
            return null;
        int width = Enumerable.Range(0, n).TakeWhile(k => Holds((first + k) % n)).Count();
        double start = raster.AroundMetres(first) - (first + width > n ? surface.WidthMetres : 0);
        double[] around = [.. Enumerable.Range(0, width).Select(k => start + k * raster.AroundPitchMetres)];
        var axes = new MapAxes(
            [.. rows.Select(raster.AlongMetres)],
            around,
            false,
            around.Select(surface.Stretch).ToArray(),
            raster.AlongPitchMetres,
            raster.AroundPitchMetres
        );
        ThicknessMap whole = map.ToThicknessMap();
        Pairing.CellStatus[] status = whole.Status.ToArray();
        int[] cells = [.. rows.SelectMany(row => Enumerable.Range(0, width).Select(k => row * n + (first + k) % n))];
        double[] Cut(double[] layer) => [.. cells.Select(c => layer[c])];
        return new ThicknessMap(
            axes,
            Cut(whole.ThicknessMetres.ToArray()),
            cells.Select(c => status[c]).ToArray(),
            Cut(map.UncertaintyMetres),
            Cut(map.AreaSquareMetres),
            Cut(map.NoiseMetres),
            whole.WrongEchoProbability.IsEmpty ? default : Cut(whole.WrongEchoProbability.ToArray())
        );
    }
}
