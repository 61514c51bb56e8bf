using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>Truth layers of a simulated stack.</summary>
internal static class SceneTruth
{
    /// <summary>Layers that a scene can fill: reflectors and coats only where it has any.</summary>
    public static IReadOnlyList<string> LayersOf(SceneModel model)
    {
        Scene scene = model.Scene;
        List<string> layers = ["thickness", "minimum_thickness", "mean_thickness"];
        if (scene.Wall.Laminations.Count + scene.Wall.Inclusions.Count > 0)
            layers.Add("reflector_depth");
        layers.Add("couplant_path");
        if (scene.Surface.Paint.Count + scene.Surface.Scale.Count > 0)
            layers.Add("coating_thickness");
        return layers;
    }

    /// <summary>Value of a cell in a layer, metres.</summary>
    public static double Value(in CellTruth truth, string layer) =>
        layer switch
        {
            "thickness" => truth.ThicknessMetres,
            "minimum_thickness" => truth.MinimumThicknessMetres,
            "mean_thickness" => truth.MeanThicknessMetres,
            "reflector_depth" => truth.ReflectorDepthMetres,
            "couplant_path" => truth.CouplantPathMetres,
            _ => truth.CoatingThicknessMetres,
        };
}
