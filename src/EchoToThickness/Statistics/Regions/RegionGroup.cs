namespace EchoToThickness.Statistics.Regions;

/// <summary>Regions that the interaction rule takes as one.</summary>
public sealed record RegionGroup
{
    /// <summary>Numbers of the regions, ascending.</summary>
    public required IReadOnlyList<int> Regions { get; init; }

    /// <summary>Smallest wall, metres.</summary>
    public required double SmallestWallMetres { get; init; }

    /// <summary>Length of the common box, metres.</summary>
    public required double LengthMetres { get; init; }

    /// <summary>Width of the common box, metres.</summary>
    public required double WidthMetres { get; init; }

    /// <summary>Sum of the areas of the regions, square metres.</summary>
    public required double AreaSquareMetres { get; init; }

    /// <summary>Sum of the volumes, cubic metres.</summary>
    public required double VolumeCubicMetres { get; init; }
}
