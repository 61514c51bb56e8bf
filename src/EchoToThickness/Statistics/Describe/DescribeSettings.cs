namespace EchoToThickness.Statistics.Describe;

/// <summary>What the description of a map should hold.</summary>
public sealed record DescribeSettings
{
    /// <summary>Probabilities of the quantiles.</summary>
    public IReadOnlyList<double> QuantileProbabilities { get; init; } =
    [0.001, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99];

    /// <summary>Definition of the quantiles.</summary>
    public QuantileType QuantileType { get; init; } = QuantileType.MedianUnbiased;

    /// <summary>Walls below which areas are asked for, metres.</summary>
    public IReadOnlyList<double> ThresholdsMetres { get; init; } = [];

    /// <summary>A cell is surely below a threshold when its probability reaches this, and possibly below when it exceeds 1 minus this.</summary>
    public double SureProbability { get; init; } = 0.95;

    /// <summary>Confidence of the interval of the minimum.</summary>
    public double Confidence { get; init; } = 0.95;
}
