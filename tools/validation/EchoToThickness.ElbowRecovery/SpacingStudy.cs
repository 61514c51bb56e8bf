using EchoToThickness.Components;
using EchoToThickness.Reporting.Inspection;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.ElbowRecovery;

/// <summary>Whether the wall or its picks are right, where interface-to-wall and wall-to-wall picks agree and the wall lies elsewhere.</summary>
internal static class SpacingStudy
{
    private const double Agreement = 0.03e-3;
    private const double Apart = 0.1e-3;

    /// <summary>Prints one line.</summary>
    /// <param name="grid">The grid.</param>
    /// <param name="map">Its map.</param>
    /// <param name="model">The scene.</param>
    public static void Run(GridFile grid, StitchedMap map, SceneModel model)
    {
        Func<string, OverruleSource, float[]?> kept = GridLines.Kept(grid);
        int agree = 0,
            moved = 0,
            picks = 0,
            walls = 0,
            thin = 0;
        foreach (LineCells line in map.Lines)
        {
            float[]? between = kept(line.Name, OverruleSource.WallToWall);
            float[]? front = kept(line.Name, OverruleSource.InterfaceToWall);
            if (between is null || front is null)
                continue;
            var geometry = new LineGeometry(map.Raster.Surface, line);
            for (int cell = 0; cell < front.Length; cell++)
            {
                if (!line.IsMeasured(cell) || !(Math.Abs(between[cell] - front[cell]) <= Agreement))
                    continue;
                agree++;
                float wall = line.ThicknessMetres[cell];
                if (!(Math.Abs(wall - front[cell]) > Apart))
                    continue;
                moved++;
                SurfacePlace at = geometry.PlaceOf(cell / line.Beams, cell % line.Beams);
                double truth = model.Wall.ThicknessAt(new SurfacePoint(at.AlongMetres, at.AroundMetres));
                picks += Math.Abs(front[cell] - truth) < Apart ? 1 : 0;
                walls += Math.Abs(wall - truth) < Apart ? 1 : 0;
                thin += wall < front[cell] ? 1 : 0;
            }
        }
        Console.WriteLine(
            $"\n{agree} cells with picks that agree to 0.03 mm; the wall lies more than 0.1 mm from them in {moved}: there the picks are right to 0.1 mm in {picks}, the wall in {walls}; it is the thinner in {thin}.\n"
        );
    }
}
