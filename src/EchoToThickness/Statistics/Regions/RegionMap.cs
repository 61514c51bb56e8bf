namespace EchoToThickness.Statistics.Regions;

/// <summary>Thin regions of a map.</summary>
public sealed class RegionMap
{
    private readonly int[] _labels;
    private readonly int[] _cells;
    private readonly int[] _starts;

    internal RegionMap(
        RegionSettings settings,
        int[] labels,
        int[] cells,
        int[] starts,
        IReadOnlyList<ThinRegion> regions,
        IReadOnlyList<RegionGroup> groups,
        int dropped,
        double droppedArea
    )
    {
        Settings = settings;
        _labels = labels;
        _cells = cells;
        _starts = starts;
        Regions = regions;
        Groups = groups;
        DroppedRegions = dropped;
        DroppedAreaSquareMetres = droppedArea;
    }

    /// <summary>Settings in full.</summary>
    public RegionSettings Settings { get; }

    /// <summary>Shape [along, around]: number of the region, 0 outside.</summary>
    public ReadOnlySpan<int> Labels => _labels;

    /// <summary>Regions, the thinnest first.</summary>
    public IReadOnlyList<ThinRegion> Regions { get; }

    /// <summary>Groups of interacting regions (also of one), the thinnest first.</summary>
    public IReadOnlyList<RegionGroup> Groups { get; }

    /// <summary>Regions below the minimum footprint.</summary>
    public int DroppedRegions { get; }

    /// <summary>Their area, square metres.</summary>
    public double DroppedAreaSquareMetres { get; }

    /// <summary>Area of all regions of one kind, square metres.</summary>
    /// <param name="kind">Kind.</param>
    public double AreaOf(RegionKind kind) => Regions.Where(r => r.Kind == kind).Sum(r => r.AreaSquareMetres);

    /// <summary>Deepest over mean penetration of the regions' deepest points: the pitting factor of ASTM G46 (7.4, from memory); NaN without regions.</summary>
    public double PittingFactor =>
        Regions.Count == 0 ? double.NaN : Regions.Max(r => r.DepthMetres) / Regions.Average(r => r.DepthMetres);

    /// <summary>Cells of a region, ascending.</summary>
    /// <param name="number">Number of the region, from 1.</param>
    public ReadOnlySpan<int> CellsOf(int number)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(number, Regions.Count);
        return _cells.AsSpan(_starts[number - 1], _starts[number] - _starts[number - 1]);
    }
}
