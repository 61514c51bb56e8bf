namespace EchoToThickness.Stacks;

/// <summary>The stored type of an A-scan's samples, native byte order.</summary>
public enum SampleType
{
    /// <summary>Signed 8-bit integer.</summary>
    Int8,

    /// <summary>Unsigned 8-bit integer; the zero level is usually 128 (<see cref="AmplitudeScale.ZeroCounts"/>).</summary>
    UInt8,

    /// <summary>Signed 16-bit integer.</summary>
    Int16,

    /// <summary>Unsigned 16-bit integer; the zero level is usually 32768.</summary>
    UInt16,

    /// <summary>IEEE 754 single precision.</summary>
    Float32,

    /// <summary>IEEE 754 double precision.</summary>
    Float64,
}
