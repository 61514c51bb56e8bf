using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Turns the byte order of elements over, in place.</summary>
internal static class ByteSwap
{
    public static void InPlace(Span<byte> bytes, int elementBytes)
    {
        switch (elementBytes)
        {
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
                for (int i = 0; i + elementBytes <= bytes.Length && elementBytes > 1; i += elementBytes)
                    bytes.Slice(i, elementBytes).Reverse();
                break;
        }
    }
}
