namespace EchoToThickness.Statistics.Regions;

/// <summary>What counts as a thin region.</summary>
public sealed record RegionSettings
{
    /// <summary>A region needs at least one cell with a wall below this, metres.</summary>
    public required double SeedThresholdMetres { get; init; }

    /// <summary>A region grows over all connected cells below this, metres; not below the seed threshold (hysteresis).</summary>
    public required double GrowThresholdMetres { get; init; }

    /// <summary>Wall from which depth and volume are counted, metres: nominal, or what the sound metal measures.</summary>
    public required double ReferenceWallMetres { get; init; }

    /// <summary>Whether cells that touch at a corner belong together (8 neighbours) or not (4).</summary>
    public bool JoinAtCorners { get; init; } = true;

    /// <summary>Regions of a smaller area are counted and dropped, square metres.</summary>
    public double MinimumAreaSquareMetres { get; init; }

    /// <summary>Regions of fewer cells are counted and dropped.</summary>
    public int MinimumCells { get; init; } = 1;

    /// <summary>A region whose length and width do not exceed so many reference walls is a pit. Common practice, no source.</summary>
    public double PitWallMultiple { get; init; } = 3;

    /// <summary>When neighbouring regions count as one.</summary>
    public InteractionRule Interaction { get; init; } = InteractionRule.ThreeWalls;
}
