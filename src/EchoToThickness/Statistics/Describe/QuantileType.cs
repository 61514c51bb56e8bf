namespace EchoToThickness.Statistics.Describe;

/// <summary>Definition of a sample quantile, numbered as in Hyndman and Fan, Am. Stat. 50 (1996) 361.</summary>
public enum QuantileType
{
    /// <summary>Type 1: inverse of the empirical distribution.</summary>
    InverseDistribution = 1,

    /// <summary>Type 2: as type 1, the mean of both neighbours at a jump.</summary>
    AveragedInverse = 2,

    /// <summary>Type 3: the nearest order statistic, even ones at a tie.</summary>
    NearestEven = 3,

    /// <summary>Type 4: linear interpolation of the empirical distribution.</summary>
    LinearDistribution = 4,

    /// <summary>Type 5: Hazen, midway points.</summary>
    Hazen = 5,

    /// <summary>Type 6: Weibull, expected probability.</summary>
    Weibull = 6,

    /// <summary>Type 7: modal positions, the default of many programs.</summary>
    Modal = 7,

    /// <summary>Type 8: approximately median-unbiased; recommended by Hyndman and Fan.</summary>
    MedianUnbiased = 8,

    /// <summary>Type 9: approximately unbiased for normal samples.</summary>
    NormalUnbiased = 9,
}
