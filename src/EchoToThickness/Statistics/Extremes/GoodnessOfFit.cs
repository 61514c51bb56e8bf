namespace EchoToThickness.Statistics.Extremes;

/// <summary>How well a distribution fits, with the data of the plots that show it.</summary>
public sealed record GoodnessOfFit
{
    /// <summary>Anderson and Darling's statistic.</summary>
    public required double AndersonDarling { get; init; }

    /// <summary>Its probability by parametric bootstrap: the parameters are fitted anew in every sample.</summary>
    public required double AndersonDarlingProbability { get; init; }

    /// <summary>Kolmogorov and Smirnov's statistic.</summary>
    public required double KolmogorovSmirnov { get; init; }

    /// <summary>Its probability by parametric bootstrap.</summary>
    public required double KolmogorovSmirnovProbability { get; init; }

    /// <summary>Shape [value]: plotting positions <c>k / (n + 1)</c>.</summary>
    public required IReadOnlyList<double> Positions { get; init; }

    /// <summary>Shape [value]: fitted probability of each ordered value; against the positions the probability plot.</summary>
    public required IReadOnlyList<double> FittedProbabilities { get; init; }

    /// <summary>Shape [value]: ordered values.</summary>
    public required IReadOnlyList<double> OrderedValues { get; init; }

    /// <summary>Shape [value]: fitted quantile at each position; against the ordered values the quantile plot.</summary>
    public required IReadOnlyList<double> FittedQuantiles { get; init; }
}
