namespace EchoToThickness.Statistics.Spatial;

/// <summary>How the spatial structure of a map is examined.</summary>
public sealed record SpatialSettings
{
    /// <summary>Largest lag in metres; 0 takes a quarter of the shorter side.</summary>
    public double LargestLagMetres { get; init; }

    /// <summary>Most lags of one direction.</summary>
    public int MostLags { get; init; } = 60;

    /// <summary>Average of the squared differences.</summary>
    public VariogramEstimator Estimator { get; init; } = VariogramEstimator.Robust;

    /// <summary>Form to fit; null chooses by the sum of squares.</summary>
    public VariogramShape? Shape { get; init; }
}
