using EchoToThickness.Components;
using EchoToThickness.Pairing;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Statistics;

namespace EchoToThickness.EndToEnd.Tests.Recovery;

/// <summary>The true wall of a scene on a raster finer than the scan, over the metal that was scanned.</summary>
internal sealed class TrueMap
{
    private TrueMap(ThicknessMap map, MapRaster raster) => (Map, Raster) = (map, raster);

    /// <summary>The map.</summary>
    public ThicknessMap Map { get; }

    /// <summary>Its raster.</summary>
    public MapRaster Raster { get; }

    /// <summary>Takes the wall of a scene at the centre of every cell; cells whose place no line scanned take no part.</summary>
    /// <param name="model">The scene.</param>
    /// <param name="scanned">The map made of its measured lines.</param>
    /// <param name="pitchMetres">Pitch of the true map.</param>
    public static TrueMap Of(SceneModel model, StitchedMap scanned, double pitchMetres)
    {
        ComponentSurface surface = scanned.Raster.Surface;
        var raster = new MapRaster(surface, pitchMetres, pitchMetres);
        var wall = new double[raster.Count];
        var area = new double[raster.Count];
        var status = new CellStatus[raster.Count];
        for (int i = 0; i < raster.AlongCount; i++)
        for (int j = 0; j < raster.AroundCount; j++)
        {
            int cell = i * raster.AroundCount + j;
            SurfacePlace place = raster.PlaceOf(cell);
            area[cell] = raster.AreaOf(i, j);
            bool seen = scanned.ContributorCount(scanned.Raster.CellOf(place)) > 0;
            status[cell] = seen ? CellStatus.Measured : CellStatus.NotScanned;
            wall[cell] = seen
                ? model.Wall.ThicknessAt(new SurfacePoint(place.AlongMetres, place.AroundMetres))
                : double.NaN;
        }
        double[] around = [.. Enumerable.Range(0, raster.AroundCount).Select(raster.AroundMetres)];
        var axes = new MapAxes(
            [.. Enumerable.Range(0, raster.AlongCount).Select(raster.AlongMetres)],
            around,
            surface.IsClosed,
            surface.Torus is null ? default : around.Select(surface.Stretch).ToArray(),
            raster.AlongPitchMetres,
            raster.AroundPitchMetres
        );
        return new TrueMap(new ThicknessMap(axes, wall, status, default, area), raster);
    }

    /// <summary>True area below a wall, square metres.</summary>
    /// <param name="thresholdMetres">The wall.</param>
    public double AreaBelow(double thresholdMetres)
    {
        double sum = 0;
        for (int k = 0; k < Map.Count; k++)
            if (Map.ThicknessMetres[k] < thresholdMetres)
                sum += Map.AreaSquareMetres[k];
        return sum;
    }

    /// <summary>Smallest true wall, metres.</summary>
    public double Smallest
    {
        get
        {
            double smallest = double.PositiveInfinity;
            foreach (double wall in Map.ThicknessMetres)
                if (wall < smallest)
                    smallest = wall;
            return smallest;
        }
    }
}
