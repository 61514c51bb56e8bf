namespace EchoToThickness.Conditioning;

/// <summary>Whether an A-scan can be looked at.</summary>
public enum AScanCondition
{
    /// <summary>Conditioned and ready.</summary>
    Ready,

    /// <summary>No A-scan was stored for the cell.</summary>
    NotScanned,

    /// <summary>A sample is NaN or infinite.</summary>
    InvalidSamples,
}
