namespace EchoToThickness.Statistics.Extremes;

/// <summary>How a statement about metal that nobody scanned is made.</summary>
public sealed record ExtremeSettings
{
    /// <summary>Wall from which losses are counted, metres.</summary>
    public required double ReferenceWallMetres { get; init; }

    /// <summary>Area the statement is about, square metres.</summary>
    public required double TargetAreaSquareMetres { get; init; }

    /// <summary>One-sided confidence of the lower bound; two-sided confidence of the intervals.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>Level at which all tests together reject (Bonferroni).</summary>
    public double Significance { get; init; } = 0.05;

    /// <summary>Smallest block side in correlation lengths. Our choice, without source.</summary>
    public double BlockCorrelationMultiple { get; init; } = 2;

    /// <summary>Sides that are tried, in multiples of the smallest.</summary>
    public IReadOnlyList<double> BlockLadder { get; init; } = [1, 1.5, 2, 3, 4, 6];

    /// <summary>Fewer blocks give no statement.</summary>
    public int LeastBlocks { get; init; } = 16;

    /// <summary>With fewer blocks the shape is held at 0.</summary>
    public int LeastBlocksForShape { get; init; } = 50;

    /// <summary>Blocks with a smaller share of measured cells are left out.</summary>
    public double LeastMeasuredFraction { get; init; } = 0.5;

    /// <summary>Fewer clusters below the threshold give no statement from peaks.</summary>
    public int LeastClusters { get; init; } = 30;

    /// <summary>Bootstrap samples of an interval.</summary>
    public int BootstrapSamples { get; init; } = 200;

    /// <summary>Bootstrap samples of a goodness of fit.</summary>
    public int FitTrials { get; init; } = 99;

    /// <summary>Permutations of the neighbour test.</summary>
    public int Permutations { get; init; } = 499;

    /// <summary>Fields of the coverage self-test; 0 leaves it out, and then the best verdict is caution.</summary>
    public int SelfTestTrials { get; init; } = 60;

    /// <summary>Seed of everything random.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>A person's choice against the thinnest result; null leaves that as headline.</summary>
    public HeadlineOverrule? Overrule { get; init; }
}
