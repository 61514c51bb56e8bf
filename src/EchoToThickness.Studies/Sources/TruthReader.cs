using EchoToThickness.Stacks;

namespace EchoToThickness.Studies.Sources;

/// <summary>Reads what a source knows of its cells.</summary>
internal static class TruthReader
{
    public static BlockTruth Read(IAScanSource source, int[] cluster)
    {
        var truth = (ITruthSource)source;
        StackShape shape = source.Info.Shape;
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

    private static double[] Layer(ITruthSource truth, string layer, StackShape shape)
    {
        var metres = new double[shape.Cells];
        truth.ReadTruth(layer, 0, shape.Scans, metres);
        return metres;
    }
}
