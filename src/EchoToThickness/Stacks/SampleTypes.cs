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
}
