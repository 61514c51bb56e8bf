using EchoToThickness.Components;
using EchoToThickness.Pairing;
using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Plans;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Tests.Components;

/// <summary>Lines of a scene as a perfect measurement with noise would give them: the true wall at the true place, written where the encoder says.</summary>
internal static class SceneLines
{
    public static LineCells[] Of(SceneModel model, double noiseMetres = 0, int seed = 1)
    {
        var random = new System.Random(seed);
        var lines = new LineCells[model.Lines];
        for (int line = 0; line < lines.Length; line++)
        {
            Stacks.StackInfo info = model.InfoOf(line);
            int cells = info.Shape.Scans * info.Shape.Beams;
            var wall = new float[cells];
            var status = new CellStatus[cells];
            ScanLine truth = model.Faults.LineOf(line);
            for (int scan = 0; scan < info.Shape.Scans; scan++)
            {
                ScanRow row = model.Faults.RowOf(line, scan);
                for (int beam = 0; beam < info.Shape.Beams; beam++)
                {
                    int cell = scan * info.Shape.Beams + beam;
                    bool sound = row.IsPresent && row.TrueScan < model.Geometry.ShapeOf(truth.TrueLine).Scans;
                    CellPlace place = model.Geometry.PlaceOf(truth.TrueLine, sound ? row.TrueScan : 0, beam);
                    SurfacePoint point = place.Point with
                    {
                        AroundMetres = model.Shape.Wrap(place.Point.AroundMetres + truth.IndexOffsetMetres),
                    };
                    sound &= place.OnComponent;
                    double noise = noiseMetres == 0 ? 0 : noiseMetres * Normal(random);
                    wall[cell] = sound ? (float)(model.Wall.ThicknessAt(point) + noise) : float.NaN;
                    status[cell] = sound ? CellStatus.Measured : CellStatus.NotScanned;
                }
            }
            lines[line] = new LineCells
            {
                Name = model.Geometry.LineName(line),
                Scans = info.Shape.Scans,
                Beams = info.Shape.Beams,
                ScanPositionsMetres = info.ScanPositionsMetres!,
                IndexPositionsMetres = info.IndexPositionsMetres!,
                Placement = info.Placement,
                ThicknessMetres = wall,
                Status = status,
                UncertaintyMetres = [.. Enumerable.Repeat((float)noiseMetres, cells)],
            };
        }
        return lines;
    }

    public static ComponentSurface Surface(SceneModel model) => ComponentSurface.Of(model.InfoOf(0).Component);

    private static double Normal(System.Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
