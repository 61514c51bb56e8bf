namespace EchoToThickness.Stacks.Sanity;

/// <summary>Which A-scans are looked at: patches of two neighbouring scan positions by a window of beams, spread evenly over the stack.</summary>
internal static class CellSelection
{
    /// <summary>One patch.</summary>
    internal readonly record struct Patch(int FirstScan, int ScanCount, int FirstBeam, int BeamCount);

    /// <summary>Chooses the patches; the same stack gives the same patches.</summary>
    /// <param name="shape">Extent of the stack.</param>
    /// <param name="maximumCells">Most A-scans to look at.</param>
    public static IReadOnlyList<Patch> Patches(StackShape shape, int maximumCells)
    {
        int beams = Math.Min(shape.Beams, 64);
        int windows = (shape.Beams + beams - 1) / beams;
        int rows = Math.Max(1, maximumCells / beams);
        List<Patch> patches = [];
        if (shape.Cells <= maximumCells)
        {
            for (int scan = 0; scan < shape.Scans; scan++)
            {
                for (int first = 0; first < shape.Beams; first += beams)
                    patches.Add(new(scan, 1, first, Math.Min(beams, shape.Beams - first)));
            }
            return patches;
        }
        int depth = Math.Min(2, shape.Scans);
        int count = Math.Max(1, rows / depth);
        for (int p = 0; p < count; p++)
        {
            int scan = count == 1 ? 0 : (int)((long)p * (shape.Scans - depth) / (count - 1));
            int window = p % windows;
            int first = windows == 1 ? 0 : (int)((long)window * (shape.Beams - beams) / (windows - 1));
            patches.Add(new(scan, depth, first, beams));
        }
        return patches;
    }
}
