namespace EchoToThickness.Statistics.Extremes;

/// <summary>One block size that was tried: the stability plot is the bound over the size.</summary>
public sealed record BlockChoice
{
    /// <summary>Side along, metres.</summary>
    public required double AlongMetres { get; init; }

    /// <summary>Side around, metres.</summary>
    public required double AroundMetres { get; init; }

    /// <summary>Blocks used.</summary>
    public required int Blocks { get; init; }

    /// <summary>Gumbel scale of the losses, metres; NaN where not fitted.</summary>
    public required double ScaleMetres { get; init; }

    /// <summary>Plug-in bound of the smallest wall in the target area, metres; NaN where not fitted.</summary>
    public required double PlugInBoundMetres { get; init; }

    /// <summary>Probability of so similar neighbours under independence.</summary>
    public required double NeighbourProbability { get; init; }

    /// <summary>Whether this size was chosen.</summary>
    public bool IsChosen { get; init; }

    /// <summary>Why not, or why, in words.</summary>
    public required string Reason { get; init; }
}
