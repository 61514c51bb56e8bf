namespace EchoToThickness.Statistics.Spatial;

/// <summary>How walls at neighbouring places resemble each other.</summary>
public sealed record SpatialStructure
{
    /// <summary>Settings in full.</summary>
    public required SpatialSettings Settings { get; init; }

    /// <summary>Empirical variogram along; squared metres over metres.</summary>
    public required IReadOnlyList<VariogramBin> Along { get; init; }

    /// <summary>Empirical variogram around.</summary>
    public required IReadOnlyList<VariogramBin> Around { get; init; }

    /// <summary>Empirical variogram on the diagonals.</summary>
    public required IReadOnlyList<VariogramBin> Diagonal { get; init; }

    /// <summary>Model along; null where there are fewer than three lags.</summary>
    public required VariogramModel? AlongModel { get; init; }

    /// <summary>Model around; null where there are fewer than three lags.</summary>
    public required VariogramModel? AroundModel { get; init; }

    /// <summary>Correlation length along: practical range of the model, metres; one pitch where there is no structure.</summary>
    public required double AlongCorrelationMetres { get; init; }

    /// <summary>Correlation length around, metres.</summary>
    public required double AroundCorrelationMetres { get; init; }

    /// <summary>The longer over the shorter correlation length.</summary>
    public double Anisotropy =>
        Math.Max(AlongCorrelationMetres, AroundCorrelationMetres)
        / Math.Min(AlongCorrelationMetres, AroundCorrelationMetres);

    /// <summary>Root of the smaller nugget, metres: noise and what varies within a cell.</summary>
    public required double NuggetDeviationMetres { get; init; }

    /// <summary>Independent cells that would give the mean the same variance.</summary>
    public required double EffectiveSampleSize { get; init; }

    /// <summary>What a reader has to know, in words.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}
