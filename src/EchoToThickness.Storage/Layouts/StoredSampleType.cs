using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Sample type of a raw file.</summary>
public enum StoredSampleType
{
    /// <summary>Signed 8-bit integer.</summary>
    [Choice("int8", "Signed 8-bit integer.")]
    Int8,

    /// <summary>Unsigned 8-bit integer.</summary>
    [Choice("uint8", "Unsigned 8-bit integer.")]
    UInt8,

    /// <summary>Signed 16-bit integer.</summary>
    [Choice("int16", "Signed 16-bit integer.")]
    Int16,

    /// <summary>Unsigned 16-bit integer.</summary>
    [Choice("uint16", "Unsigned 16-bit integer.")]
    UInt16,

    /// <summary>IEEE 754 single precision.</summary>
    [Choice("float32", "IEEE 754 single precision.")]
    Float32,

    /// <summary>IEEE 754 double precision.</summary>
    [Choice("float64", "IEEE 754 double precision.")]
    Float64,
}
