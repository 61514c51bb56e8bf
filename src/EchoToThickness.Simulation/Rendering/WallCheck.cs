using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>What only the finished wall can tell: metal that has gone where losses add up, laminations in thin air.</summary>
internal static class WallCheck
{
    /// <summary>The wall is looked at on at most this many points; features between them are looked at by their own centres.</summary>
    private const int MostPoints = 40_000;

    public static IReadOnlyList<ProcedureFinding> Findings(SceneModel model)
    {
        var findings = new List<ProcedureFinding>();
        Laminations(model, findings);
        (double least, SurfacePoint at) = Thinnest(model);
        if (!(least > 0))
            findings.Add(
                new ProcedureFinding(
                    "wall",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Losses add up to more than the wall: no metal is left at {at.AlongMetres * 1e3:0.#} mm along and {at.AroundMetres * 1e3:0.#} mm around."
                    ),
                    "make the features there shallower, or move them apart; [[wall.cluster]] and [[wall.roughness]] count too."
                )
            );
        return findings;
    }

    private static void Laminations(SceneModel model, List<ProcedureFinding> findings)
    {
        IReadOnlyList<LaminationFeature> laminations = model.Scene.Wall.Laminations;
        for (int i = 0; i < laminations.Count; i++)
        {
            LaminationFeature lamination = laminations[i];
            var centre = new SurfacePoint(
                model.Shape.AlongMetres(lamination.Along),
                model.Shape.Wrap(model.Shape.AroundMetres(lamination.Around))
            );
            double wall = model.Wall.ThicknessAt(centre);
            double depth = lamination.Depth!.Value.ToMetres(model.Shape.NominalWallMetres);
            if (depth >= wall)
                findings.Add(
                    new ProcedureFinding(
                        string.Create(CultureInfo.InvariantCulture, $"wall.lamination[{i + 1}].depth"),
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"The lamination lies {depth * 1e3:0.###} mm deep where {wall * 1e3:0.###} mm of wall are left: in no metal."
                        ),
                        "make it shallower, or move it away from the loss."
                    )
                );
        }
    }

    private static (double Metres, SurfacePoint At) Thinnest(SceneModel model)
    {
        double least = double.PositiveInfinity;
        SurfacePoint at = default;
        void Look(SurfacePoint point)
        {
            double wall = model.Wall.ThicknessAt(point);
            if (!(wall >= least))
                (least, at) = (wall, point);
        }
        for (int cut = 0; cut < model.Wall.CutCount; cut++)
            Look(model.Wall.CutAt(cut).Centre);
        foreach (PatchFeature patch in model.Scene.Wall.Patches)
            Look(
                new SurfacePoint(
                    model.Shape.AlongMetres(patch.Along),
                    model.Shape.Wrap(model.Shape.AroundMetres(patch.Around))
                )
            );
        long cells = model.Cells;
        int step = (int)Math.Max(1, Math.Ceiling(Math.Sqrt(cells / (double)MostPoints)));
        for (int line = 0; line < model.Lines; line++)
        {
            (int scans, int beams) = (model.Geometry.ShapeOf(line).Scans, model.Geometry.Beams);
            for (int scan = 0; scan < scans; scan += step)
            for (int beam = 0; beam < beams; beam += step)
                if (model.Geometry.PlaceOf(line, scan, beam) is { OnComponent: true } place)
                    Look(place.Point);
        }
        return (least, at);
    }
}
