using System.Runtime.InteropServices;
using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Turns the sign of stored samples over about their zero level, within the range of the type.</summary>
internal static class SampleInversion
{
    /// <summary>One count turned over: <c>2 zero - counts</c>, held within the type.</summary>
    public static double Invert(double counts, SampleType type, double zeroCounts)
    {
        double value = 2 * zeroCounts - counts;
        return type switch
        {
            SampleType.Int8 => Math.Clamp(value, sbyte.MinValue, sbyte.MaxValue),
            SampleType.UInt8 => Math.Clamp(value, byte.MinValue, byte.MaxValue),
            SampleType.Int16 => Math.Clamp(value, short.MinValue, short.MaxValue),
            SampleType.UInt16 => Math.Clamp(value, ushort.MinValue, ushort.MaxValue),
            _ => value,
        };
    }

    /// <summary>Turns samples over in place.</summary>
    public static void InPlace(Span<byte> bytes, SampleType type, double zeroCounts)
    {
        int twice = (int)Math.Round(2 * zeroCounts);
        switch (type)
        {
            case SampleType.Int8:
                foreach (ref sbyte x in MemoryMarshal.Cast<byte, sbyte>(bytes))
                    x = (sbyte)Math.Clamp(twice - x, sbyte.MinValue, sbyte.MaxValue);
                break;
            case SampleType.UInt8:
                foreach (ref byte x in bytes)
                    x = (byte)Math.Clamp(twice - x, byte.MinValue, byte.MaxValue);
                break;
            case SampleType.Int16:
                foreach (ref short x in MemoryMarshal.Cast<byte, short>(bytes))
                    x = (short)Math.Clamp(twice - x, short.MinValue, short.MaxValue);
                break;
            case SampleType.UInt16:
                foreach (ref ushort x in MemoryMarshal.Cast<byte, ushort>(bytes))
                    x = (ushort)Math.Clamp(twice - x, ushort.MinValue, ushort.MaxValue);
                break;
            case SampleType.Float32:
                float twiceSingle = (float)(2 * zeroCounts);
                foreach (ref float x in MemoryMarshal.Cast<byte, float>(bytes))
                    x = twiceSingle - x;
                break;
            default:
                foreach (ref double x in MemoryMarshal.Cast<byte, double>(bytes))
                    x = 2 * zeroCounts - x;
                break;
        }
    }
}
