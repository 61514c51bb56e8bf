using System.Runtime.InteropServices;
using EchoToThickness.Signals;

namespace EchoToThickness.Stacks;

/// <summary>Stored samples of any type as fractions of full scale, single precision.</summary>
public static class StoredSamples
{
    /// <summary>Converts one A-scan (or a stretch of it).</summary>
    /// <param name="stored">Samples of the stored type, native byte order.</param>
    /// <param name="type">Stored type.</param>
    /// <param name="scale">Counts to fraction of full scale.</param>
    /// <param name="fractions">Shape [sample]: takes the result.</param>
    /// <param name="path">Implementation; all give the same bits.</param>
    /// <exception cref="ArgumentOutOfRangeException">The type is unknown.</exception>
    public static void ToFractions(
        ReadOnlySpan<byte> stored,
        SampleType type,
        in AmplitudeScale scale,
        Span<float> fractions,
        KernelPath path
    )
    {
        double factor = 1 / scale.FullScaleCounts;
        float zero = (float)scale.ZeroCounts;
        switch (type)
        {
            case SampleType.Int8:
                SampleConversion.ToSingle(
                    MemoryMarshal.Cast<byte, sbyte>(stored),
                    zero,
                    (float)factor,
                    fractions,
                    path
                );
                break;
            case SampleType.UInt8:
                SampleConversion.ToSingle(stored, zero, (float)factor, fractions, path);
                break;
            case SampleType.Int16:
                SampleConversion.ToSingle(
                    MemoryMarshal.Cast<byte, short>(stored),
                    zero,
                    (float)factor,
                    fractions,
                    path
                );
                break;
            case SampleType.UInt16:
                SampleConversion.ToSingle(
                    MemoryMarshal.Cast<byte, ushort>(stored),
                    zero,
                    (float)factor,
                    fractions,
                    path
                );
                break;
            case SampleType.Float32:
                SampleConversion.ToSingle(
                    MemoryMarshal.Cast<byte, float>(stored),
                    zero,
                    (float)factor,
                    fractions,
                    path
                );
                break;
            case SampleType.Float64:
                SampleConversion.ToSingle(
                    MemoryMarshal.Cast<byte, double>(stored),
                    scale.ZeroCounts,
                    factor,
                    fractions,
                    path
                );
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(type), type, "Unknown sample type.");
        }
    }
}
