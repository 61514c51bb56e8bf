namespace EchoToThickness.Statistics.Regions;

/// <summary>When two neighbouring regions are taken as one: both gaps between their boxes are within their limits.</summary>
/// <remarks>A limit is the smallest (or largest) of the multiples that are above zero; without any there is no interaction along that axis.</remarks>
public sealed record InteractionRule
{
    /// <summary>Gap along, in reference walls; 0 leaves it out.</summary>
    public double AlongWallMultiple { get; init; }

    /// <summary>Gap around, in reference walls; 0 leaves it out.</summary>
    public double AroundWallMultiple { get; init; }

    /// <summary>Gap along, in lengths of the shorter region; 0 leaves it out.</summary>
    public double AlongLengthMultiple { get; init; }

    /// <summary>Gap around, in widths of the narrower region; 0 leaves it out.</summary>
    public double AroundWidthMultiple { get; init; }

    /// <summary>True: the largest multiple decides (cautious); false: the smallest.</summary>
    public bool LargestDecides { get; init; }

    /// <summary>Where the rule comes from, in words.</summary>
    public string Source { get; init; } = "chosen in the plan";

    /// <summary>Whether the source was read; false prints "unverified".</summary>
    public bool IsVerified { get; init; }

    /// <summary>No interaction.</summary>
    public static InteractionRule None { get; } = new() { Source = "none", IsVerified = true };

    /// <summary>Three walls in either direction.</summary>
    public static InteractionRule ThreeWalls { get; } =
        new()
        {
            AlongWallMultiple = 3,
            AroundWallMultiple = 3,
            Source = "ASME B31G-2012, interaction figure; from memory",
        };

    /// <summary>Six walls, but not more than the smaller length or width.</summary>
    public static InteractionRule SixWallsOrSmaller { get; } =
        new()
        {
            AlongWallMultiple = 6,
            AroundWallMultiple = 6,
            AlongLengthMultiple = 1,
            AroundWidthMultiple = 1,
            Source = "specification of pipeline operators for in-line inspection; from memory",
        };

    /// <summary>Largest gap along, metres.</summary>
    /// <param name="wallMetres">Reference wall.</param>
    /// <param name="shorterMetres">Length of the shorter region.</param>
    public double AlongLimitMetres(double wallMetres, double shorterMetres) =>
        Limit(AlongWallMultiple * wallMetres, AlongLengthMultiple * shorterMetres);

    /// <summary>Largest gap around, metres.</summary>
    /// <param name="wallMetres">Reference wall.</param>
    /// <param name="narrowerMetres">Width of the narrower region.</param>
    public double AroundLimitMetres(double wallMetres, double narrowerMetres) =>
        Limit(AroundWallMultiple * wallMetres, AroundWidthMultiple * narrowerMetres);

    private double Limit(double byWall, double bySize) =>
        byWall <= 0 ? (bySize > 0 ? bySize : double.NegativeInfinity)
        : bySize <= 0 ? byWall
        : LargestDecides ? Math.Max(byWall, bySize)
        : Math.Min(byWall, bySize);
}
