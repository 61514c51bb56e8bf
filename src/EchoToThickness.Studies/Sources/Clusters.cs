using EchoToThickness.Stacks;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Sources;

/// <summary>Numbers the clusters of a grid of cells.</summary>
internal static class Clusters
{
    public static int[] Of(StackShape shape, ResampleChoice choice, int blockScans, int blockBeams)
    {
        var cluster = new int[shape.Cells];
        int blocksAcross = (shape.Beams + blockBeams - 1) / blockBeams;
        for (int scan = 0; scan < shape.Scans; scan++)
        for (int beam = 0; beam < shape.Beams; beam++)
            cluster[scan * shape.Beams + beam] = choice switch
            {
                ResampleChoice.Cell => scan * shape.Beams + beam,
                ResampleChoice.Scan => scan,
                ResampleChoice.Beam => beam,
                ResampleChoice.Block => scan / blockScans * blocksAcross + beam / blockBeams,
                // Line; and features, which only a drawing knows, are numbered by it.
                _ => 0,
            };
        return cluster;
    }
}
