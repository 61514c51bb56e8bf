using EchoToThickness.Statistics.Spatial;

namespace EchoToThickness.Statistics.Extremes;

/// <summary>The statement about the metal that nobody scanned, with everything it rests on.</summary>
public sealed record ExtremeAnalysis
{
    /// <summary>Settings in full.</summary>
    public required ExtremeSettings Settings { get; init; }

    /// <summary>Whether the data carry it.</summary>
    public required ExtremeVerdict Verdict { get; init; }

    /// <summary>Why not, or with which cautions, in words.</summary>
    public required IReadOnlyList<string> Reasons { get; init; }

    /// <summary>Tests of one population and of independence on the chosen blocks.</summary>
    public required IReadOnlyList<TestOutcome> Tests { get; init; }

    /// <summary>Block sizes tried.</summary>
    public required IReadOnlyList<BlockChoice> BlockSizes { get; init; }

    /// <summary>All results, the thinnest bound first. Not to be used when the verdict is not supported.</summary>
    public required IReadOnlyList<ExtremeStatement> Statements { get; init; }

    /// <summary>The result to quote: the thinnest, unless overruled; null when not supported.</summary>
    public required ExtremeStatement? Headline { get; init; }

    /// <summary>Coverage self-test; null when it was left out or could not be made.</summary>
    public required CoverageSelfTest? SelfTest { get; init; }

    /// <summary>Spatial structure used.</summary>
    public required SpatialStructure Structure { get; init; }
}
