using EchoToThickness.Pairing;

namespace EchoToThickness.Statistics.Describe;

/// <summary>Area-weighted description of a map.</summary>
public sealed record MapDescription
{
    /// <summary>Settings in full.</summary>
    public required DescribeSettings Settings { get; init; }

    /// <summary>Cells of each status.</summary>
    public required IReadOnlyDictionary<CellStatus, int> CellsByStatus { get; init; }

    /// <summary>Area of each status, square metres.</summary>
    public required IReadOnlyDictionary<CellStatus, double> AreaByStatusSquareMetres { get; init; }

    /// <summary>Cells that took part.</summary>
    public required int MeasuredCells { get; init; }

    /// <summary>Area that took part, square metres.</summary>
    public required double MeasuredAreaSquareMetres { get; init; }

    /// <summary>Area of all cells, square metres.</summary>
    public required double TotalAreaSquareMetres { get; init; }

    /// <summary>Area-weighted mean wall, metres.</summary>
    public required double MeanMetres { get; init; }

    /// <summary>Area-weighted standard deviation, metres.</summary>
    public required double StandardDeviationMetres { get; init; }

    /// <summary>Root of the area-weighted mean square of the combined standard uncertainty: what of the spread measurement explains.</summary>
    public required double TypicalUncertaintyMetres { get; init; }

    /// <summary>Quantiles in the order of the settings.</summary>
    public required IReadOnlyList<MapQuantile> Quantiles { get; init; }

    /// <summary>The most frequent wall: top of a Gaussian density estimate, metres.</summary>
    public required double ModeMetres { get; init; }

    /// <summary>Standard deviation of the kernel of that estimate, metres.</summary>
    public required double ModeBandwidthMetres { get; init; }

    /// <summary>Largest wall, metres.</summary>
    public required double MaximumMetres { get; init; }

    /// <summary>The smallest wall and what it is worth.</summary>
    public required MinimumWall Minimum { get; init; }

    /// <summary>Areas below the thresholds, in the order of the settings.</summary>
    public required IReadOnlyList<ThresholdArea> Thresholds { get; init; }

    /// <summary>Smallest wall at every place along, over all places around.</summary>
    public required SmallestWallProfile AlongProfile { get; init; }

    /// <summary>Smallest wall at every place around, over all places along.</summary>
    public required SmallestWallProfile AroundProfile { get; init; }
}
