namespace EchoToThickness.Statistics.Extremes;

/// <summary>Whether the data carry an extrapolation.</summary>
public enum ExtremeVerdict
{
    /// <summary>All tests passed.</summary>
    Supported,

    /// <summary>Nothing forbids it, but the reasons must be read with it.</summary>
    SupportedWithCaution,

    /// <summary>No statement can be made; the reasons say why.</summary>
    NotSupported,
}
