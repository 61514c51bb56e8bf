namespace EchoToThickness.Stacks;

/// <summary>Facts about <see cref="SampleType"/> values.</summary>
public static class SampleTypes
{
    /// <summary>Bytes one sample occupies.</summary>
    /// <param name="type">A sample type.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not one of the enumeration.</exception>
    public static int SizeBytes(this SampleType type) =>
        type switch
        {
            SampleType.Int8 or SampleType.UInt8 => 1,
            SampleType.Int16 or SampleType.UInt16 => 2,
            SampleType.Float32 => 4,
            SampleType.Float64 => 8,
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "Unknown sample type."),
        };

    /// <summary>The zero level that the type implies when a stack does not say: mid-scale for unsigned types, else 0.</summary>
    /// <param name="type">A sample type.</param>
    public static double DefaultZeroCounts(this SampleType type) =>
        type switch
        {
            SampleType.UInt8 => 128,
            SampleType.UInt16 => 32768,
            _ => 0,
        };

    /// <summary>The amplitude, in counts from zero, of full scale when a stack does not say: 127, 32767 or 1.</summary>
    /// <param name="type">A sample type.</param>
    public static double DefaultFullScaleCounts(this SampleType type) =>
        type switch
        {
            SampleType.Int8 or SampleType.UInt8 => 127,
            SampleType.Int16 or SampleType.UInt16 => 32767,
            _ => 1,
        };
}
