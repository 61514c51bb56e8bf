namespace EchoToThickness.Grids;

/// <summary>Stored type of a layer.</summary>
public enum GridLayerType
{
    /// <summary>IEEE 754 single precision.</summary>
    Float32,

    /// <summary>Unsigned byte.</summary>
    UInt8,

    /// <summary>Unsigned 16-bit.</summary>
    UInt16,
}
