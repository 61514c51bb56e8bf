namespace EchoToThickness.Statistics.Regions;

/// <summary>A connected thin area.</summary>
public sealed record ThinRegion
{
    /// <summary>Number, from 1, the thinnest first; the label in <see cref="RegionMap.Labels"/>.</summary>
    public required int Number { get; init; }

    /// <summary>Cells.</summary>
    public required int Cells { get; init; }

    /// <summary>True metal area, square metres.</summary>
    public required double AreaSquareMetres { get; init; }

    /// <summary>Cell with the smallest wall.</summary>
    public required int DeepestCell { get; init; }

    /// <summary>Its place.</summary>
    public required MapPosition DeepestPosition { get; init; }

    /// <summary>Smallest wall, metres.</summary>
    public required double SmallestWallMetres { get; init; }

    /// <summary>Standard uncertainty of the smallest wall, metres.</summary>
    public required double SmallestWallUncertaintyMetres { get; init; }

    /// <summary>Reference wall less smallest wall, metres.</summary>
    public required double DepthMetres { get; init; }

    /// <summary>Area-weighted mean wall, metres.</summary>
    public required double MeanWallMetres { get; init; }

    /// <summary>Extent along, metres, outer edges of the cells, at the longest line it covers.</summary>
    public required double LengthMetres { get; init; }

    /// <summary>Extent around, metres, outer edges of the cells.</summary>
    public required double WidthMetres { get; init; }

    /// <summary>Sum of area times loss below the reference wall, cubic metres; cells above the reference count as zero.</summary>
    public required double VolumeCubicMetres { get; init; }

    /// <summary>Centroid of the area along the reference line, metres.</summary>
    public required double CentroidAlongMetres { get; init; }

    /// <summary>Centroid of the area around, metres, within the girth.</summary>
    public required double CentroidAroundMetres { get; init; }

    /// <summary>First index along.</summary>
    public required int AlongFirst { get; init; }

    /// <summary>Last index along.</summary>
    public required int AlongLast { get; init; }

    /// <summary>First index around.</summary>
    public required int AroundFirst { get; init; }

    /// <summary>Last index around; above the number of cells where the region lies across the seam.</summary>
    public required int AroundLast { get; init; }

    /// <summary>Whether the region closes around the whole girth.</summary>
    public required bool ClosesTheGirth { get; init; }

    /// <summary>Cells of the region beside a cell that was not measured, or at the edge of the map: the region may go on there.</summary>
    public required int OpenCells { get; init; }

    /// <summary>Shape.</summary>
    public required RegionKind Kind { get; init; }
}
