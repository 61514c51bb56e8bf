using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Turns the byte order of elements over, in place.</summary>
internal static class ByteSwap
{
    public static void InPlace(Span<byte> bytes, int elementBytes)
    {
        switch (elementBytes)
        {
            case 1:
                break;
            case 2:
                Span<ushort> two = MemoryMarshal.Cast<byte, ushort>(bytes);
                BinaryPrimitives.ReverseEndianness(two, two);
                break;
            case 4:
                Span<uint> four = MemoryMarshal.Cast<byte, uint>(bytes);
                BinaryPrimitives.ReverseEndianness(four, four);
                break;
            case 8:
                Span<ulong> eight = MemoryMarshal.Cast<byte, ulong>(bytes);
                BinaryPrimitives.ReverseEndianness(eight, eight);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(elementBytes), elementBytes, "1, 2, 4 or 8 bytes.");
        }
    }
}
