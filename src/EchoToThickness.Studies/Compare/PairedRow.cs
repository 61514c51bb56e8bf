namespace EchoToThickness.Studies.Compare;

/// <summary>One method against the reference on the same cells.</summary>
public sealed record PairedRow
{
    /// <summary>Name of the method.</summary>
    public required string Method { get; init; }

    /// <summary>Name of the reference.</summary>
    public required string Reference { get; init; }

    /// <summary>The cells.</summary>
    public required CompareGroup Group { get; init; }

    /// <summary>Cells that both measured without gross error.</summary>
    public required long BothSound { get; init; }

    /// <summary>Root mean square error of the method over that of the reference on these; interval by paired bootstrap.</summary>
    public required FigureValue RmseRatio { get; init; }

    /// <summary>
    /// Wilcoxon's signed-rank test on the mean difference of absolute errors in each cluster (cells that both measured), two-sided.
    /// </summary>
    public required double WilcoxonPValue { get; init; }

    /// <summary>The same, corrected by Holm over all methods and groups of the same kind.</summary>
    public required double WilcoxonAdjusted { get; init; }

    /// <summary>Clusters in which the method has more gross errors than the reference.</summary>
    public required long MoreGross { get; init; }

    /// <summary>Clusters in which it has fewer.</summary>
    public required long FewerGross { get; init; }

    /// <summary>McNemar's exact test on gross errors (a sign test over clusters), two-sided.</summary>
    public required double GrossPValue { get; init; }

    /// <summary>The same, corrected by Holm.</summary>
    public required double GrossAdjusted { get; init; }

    /// <summary>Clusters in which the method misses more cells than the reference.</summary>
    public required long MoreMissing { get; init; }

    /// <summary>Clusters in which it misses fewer.</summary>
    public required long FewerMissing { get; init; }

    /// <summary>McNemar's exact test on missing cells, two-sided.</summary>
    public required double MissingPValue { get; init; }

    /// <summary>The same, corrected by Holm.</summary>
    public required double MissingAdjusted { get; init; }
}
