using System.Runtime.InteropServices;

namespace EchoToThickness.Stacks.Sanity;

/// <summary>Stored samples as doubles, for code that looks at a few A-scans and not at all of them.</summary>
public static class StoredCounts
{
    /// <summary>Converts the stored bytes of one A-scan, without taking off the zero level.</summary>
    /// <param name="bytes">Stored samples, native byte order.</param>
    /// <param name="type">Stored type.</param>
    /// <param name="destinationCounts">Shape [sample]; counts as stored. May be shorter than the A-scan: the rest is left out.</param>
    public static void ToCounts(ReadOnlySpan<byte> bytes, SampleType type, Span<double> destinationCounts)
    {
        switch (type)
        {
            case SampleType.Int8:
                Widen(MemoryMarshal.Cast<byte, sbyte>(bytes), destinationCounts);
                break;
            case SampleType.UInt8:
                Widen(bytes, destinationCounts);
                break;
            case SampleType.Int16:
                Widen(MemoryMarshal.Cast<byte, short>(bytes), destinationCounts);
                break;
            case SampleType.UInt16:
                Widen(MemoryMarshal.Cast<byte, ushort>(bytes), destinationCounts);
                break;
            case SampleType.Float32:
                Widen(MemoryMarshal.Cast<byte, float>(bytes), destinationCounts);
                break;
            case SampleType.Float64:
                Widen(MemoryMarshal.Cast<byte, double>(bytes), destinationCounts);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(type), type, "Unknown sample type.");
        }
    }

    private static void Widen<T>(ReadOnlySpan<T> source, Span<double> destination)
        where T : unmanaged, System.Numerics.INumber<T>
    {
        for (int i = 0; i < destination.Length; i++)
            destination[i] = double.CreateTruncating(source[i]);
    }
}
