namespace EchoToThickness.Statistics.Extremes;

/// <summary>A fitted generalised Pareto distribution.</summary>
public sealed record ParetoFit
{
    /// <summary>The distribution.</summary>
    public required GeneralisedPareto Distribution { get; init; }

    /// <summary>What the shape was allowed to do.</summary>
    public required ShapeRule Rule { get; init; }

    /// <summary>How it was fitted, in words.</summary>
    public required string Method { get; init; }

    /// <summary>Excesses.</summary>
    public required int Count { get; init; }

    /// <summary>Negative log-likelihood without penalty.</summary>
    public required double NegativeLogLikelihood { get; init; }

    /// <summary>Covariance of scale and shape from the observed information; null when not known.</summary>
    public required double[,]? Covariance { get; init; }
}
