namespace EchoToThickness.Statistics.Extremes;

/// <summary>A fitted extreme-value distribution.</summary>
public sealed record ExtremeFit
{
    /// <summary>The distribution.</summary>
    public required GeneralisedExtremeValue Distribution { get; init; }

    /// <summary>What the shape was allowed to do.</summary>
    public required ShapeRule Rule { get; init; }

    /// <summary>How it was fitted, in words.</summary>
    public required string Method { get; init; }

    /// <summary>Values.</summary>
    public required int Count { get; init; }

    /// <summary>Negative log-likelihood without penalty; NaN where the method has none.</summary>
    public required double NegativeLogLikelihood { get; init; }

    /// <summary>Covariance of location, scale and shape from the observed information; zeros for a fixed shape; null when not known.</summary>
    public required double[,]? Covariance { get; init; }

    /// <summary>Standard errors of location, scale and shape; null when not known.</summary>
    public IReadOnlyList<double>? StandardErrors =>
        Covariance is null
            ? null
            : [Math.Sqrt(Covariance[0, 0]), Math.Sqrt(Covariance[1, 1]), Math.Sqrt(Covariance[2, 2])];
}
