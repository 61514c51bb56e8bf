namespace EchoToThickness.Stacks.Sanity;

/// <summary>
/// Compares cells one beam apart, one scan position apart, and as far apart in the file as scan neighbours would be if the scan and beam
/// extents were swapped. In a stack read with swapped extents the last are the true neighbours.
/// </summary>
internal readonly record struct SwappedNeighbours(
    double BeamStepSamples,
    double ScanStepSamples,
    double SwappedStepSamples,
    double DistantStepSamples
)
{
    private const int Bases = 96;

    public static SwappedNeighbours Measure(
        StackInfo info,
        IAScanReader reader,
        int samples,
        CancellationToken cancellation
    )
    {
        StackShape shape = info.Shape;
        double[] beamSteps = new double[Bases];
        double[] scanSteps = new double[Bases];
        double[] swappedSteps = new double[Bases];
        double[] distantSteps = new double[Bases];
        double[] counts = new double[samples];
        double[] sorted = new double[samples];
        long cells = shape.Cells;
        if (cells < 8)
            return new(double.NaN, double.NaN, double.NaN, double.NaN);
        for (int n = 0; n < Bases; n++)
        {
            cancellation.ThrowIfCancellationRequested();
            // Multiples of the golden ratio spread evenly over the stack without falling in step with its rows.
            double place = n * 0.6180339887498949 % 1;
            long cell = (long)(place * cells);
            double here = At(cell);
            beamSteps[n] = (cell + 1) % shape.Beams == 0 ? double.NaN : Math.Abs(At(cell + 1) - here);
            scanSteps[n] = Math.Abs(At(cell + shape.Beams) - here);
            swappedSteps[n] = shape.Scans == shape.Beams ? double.NaN : Math.Abs(At(cell + shape.Scans) - here);
            distantSteps[n] = Math.Abs(At((cell + cells / 2 + shape.Beams / 3) % cells) - here);
        }
        return new(
            Robust.Median(beamSteps),
            shape.Scans < 2 ? double.NaN : Robust.Median(scanSteps),
            shape.Scans < 8 || shape.Beams < 8 ? double.NaN : Robust.Median(swappedSteps),
            Robust.Median(distantSteps)
        );

        double At(long cell)
        {
            if (cell >= cells)
                return double.NaN;
            AScanBlock block = reader.Lend((int)(cell / shape.Beams), 1, (int)(cell % shape.Beams), 1);
            if (!block.IsPresent(0, 0))
                return double.NaN;
            StoredCounts.ToCounts(block.AScanBytes(0, 0), info.SampleType, counts);
            counts.CopyTo(sorted, 0);
            Array.Sort(sorted);
            double median = sorted[samples / 2];
            double peak = Math.Max(sorted[^1] - median, median - sorted[0]);
            if (!(peak > 0) || double.IsInfinity(peak))
                return double.NaN;
            return Array.FindIndex(counts, c => Math.Abs(c - median) > 0.4 * peak);
        }
    }
}
