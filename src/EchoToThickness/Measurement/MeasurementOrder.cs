namespace EchoToThickness.Measurement;

/// <summary>
/// What a measurement that somebody watches does first. Nothing here changes a result: only which tiles the sink is handed first, and how small they are.
/// </summary>
public sealed record MeasurementOrder
{
    /// <summary>Lines of one in this many are measured first, then those between, so that the map appears evenly.</summary>
    public const int Stride = 8;

    /// <summary>First scan position that is looked at.</summary>
    public int FirstScan { get; init; }

    /// <summary>Scan positions that are looked at; all others come after these.</summary>
    public int ScanCount { get; init; } = int.MaxValue;

    /// <summary>Groups in the order in which they are measured.</summary>
    internal int[] Of(MeasurementGeometry geometry)
    {
        long end = (long)FirstScan + ScanCount;
        var order = new List<int>(geometry.Groups);
        foreach (bool looked in (bool[])[true, false])
        {
            // The order of bit-reversed phases: 0, 4, 2, 6, 1, 5, 3, 7.
            foreach (int phase in (int[])[0, 4, 2, 6, 1, 5, 3, 7])
            {
                for (int group = phase; group < geometry.Groups; group += Stride)
                {
                    (int first, int count) = geometry.Group(group);
                    if (looked == (first < end && first + count > FirstScan))
                        order.Add(group);
                }
            }
        }
        return [.. order];
    }
}
