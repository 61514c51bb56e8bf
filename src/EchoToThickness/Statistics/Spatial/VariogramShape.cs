namespace EchoToThickness.Statistics.Spatial;

/// <summary>Form of a fitted variogram.</summary>
public enum VariogramShape
{
    /// <summary>Spherical: reaches its sill at the range.</summary>
    Spherical,

    /// <summary>Exponential: 95 % of the sill at three times its range parameter.</summary>
    Exponential,

    /// <summary>Gaussian: smooth; 95 % of the sill at 1.73 times its range parameter.</summary>
    Gaussian,
}
