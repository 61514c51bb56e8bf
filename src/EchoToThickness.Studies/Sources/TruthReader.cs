using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Sources;

/// <summary>Reads what a source knows of its cells.</summary>
internal static class TruthReader
{
    public static BlockTruth Read(IAScanSource source, int[] cluster)
    {
        StackShape shape = source.Info.Shape;
        if (source is not ITruthSource truth || !truth.TruthLayers.Contains("thickness"))
        {
            var unknown = new double[shape.Cells];
            Array.Fill(unknown, double.NaN);
            return new BlockTruth { ThicknessMetres = unknown, Cluster = cluster };
        }
        return new BlockTruth
        {
            ThicknessMetres = Layer(truth, "thickness", shape),
            MinimumMetres = truth.TruthLayers.Contains("minimum_thickness")
                ? Layer(truth, "minimum_thickness", shape)
                : [],
            Cluster = cluster,
            VelocityMetresPerSecond = source.Info.Acquisition.VelocityMetresPerSecond,
            FrequencyHz = source.Info.Acquisition.FrequencyHz,
        };
    }

    /// <summary>Labels of a stored stack, where they are those of the simulation; empty otherwise.</summary>
    public static uint[] Planted(IAScanSource source)
    {
        if (
            source is not ILabelSource labels
            || !labels.LabelLayers.Contains(PlantedNames.Layer)
            || !labels.LabelNames(PlantedNames.Layer).SequenceEqual(PlantedNames.All)
        )
            return [];
        var planted = new uint[source.Info.Shape.Cells];
        labels.ReadLabels(PlantedNames.Layer, 0, source.Info.Shape.Scans, planted);
        return planted;
    }

    /// <summary>True path in the couplant by cell, metres; empty where it is not known.</summary>
    public static double[] CouplantPathMetres(IAScanSource source) =>
        source is ITruthSource truth && truth.TruthLayers.Contains("couplant_path")
            ? Layer(truth, "couplant_path", source.Info.Shape)
            : [];

    private static double[] Layer(ITruthSource truth, string layer, StackShape shape)
    {
        var metres = new double[shape.Cells];
        truth.ReadTruth(layer, 0, shape.Scans, metres);
        return metres;
    }
}
