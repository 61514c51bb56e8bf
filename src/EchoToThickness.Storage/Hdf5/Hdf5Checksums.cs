using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>The two checksums of HDF5: Jenkins' lookup3 over structure, Fletcher-32 over chunks.</summary>
internal static class Hdf5Checksums
{
    /// <summary>
    /// Jenkins' <c>hashlittle</c> of lookup3.c (2006, public domain) with initial value 0, as the HDF5 file format
    /// specification asks for structure of version 2 and later.
    /// </summary>
    public static uint Lookup3(ReadOnlySpan<byte> data)
    {
        uint a = 0xdeadbeef + (uint)data.Length;
        uint b = a;
        uint c = a;
        while (data.Length > 12)
        {
            a += BinaryPrimitives.ReadUInt32LittleEndian(data);
            b += BinaryPrimitives.ReadUInt32LittleEndian(data[4..]);
            c += BinaryPrimitives.ReadUInt32LittleEndian(data[8..]);
            a = (a - c) ^ BitOperations.RotateLeft(c, 4);
            c += b;
            b = (b - a) ^ BitOperations.RotateLeft(a, 6);
            a += c;
            c = (c - b) ^ BitOperations.RotateLeft(b, 8);
            b += a;
            a = (a - c) ^ BitOperations.RotateLeft(c, 16);
            c += b;
            b = (b - a) ^ BitOperations.RotateLeft(a, 19);
            a += c;
            c = (c - b) ^ BitOperations.RotateLeft(b, 4);
            b += a;
            data = data[12..];
        }
        if (data.IsEmpty)
            return c;
        Span<byte> last = stackalloc byte[12];
        last.Clear();
        data.CopyTo(last);
        a += BinaryPrimitives.ReadUInt32LittleEndian(last);
        b += BinaryPrimitives.ReadUInt32LittleEndian(last[4..]);
        c += BinaryPrimitives.ReadUInt32LittleEndian(last[8..]);
        c = (c ^ b) - BitOperations.RotateLeft(b, 14);
        a = (a ^ c) - BitOperations.RotateLeft(c, 11);
        b = (b ^ a) - BitOperations.RotateLeft(a, 25);
        c = (c ^ b) - BitOperations.RotateLeft(b, 16);
        a = (a ^ c) - BitOperations.RotateLeft(c, 4);
        b = (b ^ a) - BitOperations.RotateLeft(a, 14);
        c = (c ^ b) - BitOperations.RotateLeft(b, 24);
        return c;
    }

    /// <summary>
    /// Fletcher-32 over big-endian 16-bit words, modulo 65535, as HDF5's filter 3 stores it: <c>s1 = sum w(i)</c>,
    /// <c>s2 = sum (n - i) w(i)</c>, value <c>s2 * 65536 + s1</c>; an odd last byte is the high half of a word.
    /// </summary>
    /// <remarks>
    /// Summed over the words in native order: swapping the bytes of a word multiplies it by 256 modulo 65535
    /// (256 * 256 = 1), so both sums are turned at the end. Each sum is 65535, not 0, when it is a multiple of 65535 other
    /// than zero itself: repeated folding of carries leaves that representative.
    /// </remarks>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static uint Fletcher32(ReadOnlySpan<byte> data)
    {
        const ulong M = 65535;
        ReadOnlySpan<ushort> words = MemoryMarshal.Cast<byte, ushort>(data);
        int lanes = Vector<uint>.Count;
        int step = 2 * lanes;
        ulong s1 = 0;
        ulong s2 = 0;
        bool any = false;
        int at = 0;
        while (words.Length - at >= step)
        {
            // Per lane: a = sum of words, b = sum of the running a; b stays below 2^32 for 240 rounds of 65535.
            int rounds = Math.Min((words.Length - at) / step, 240);
            Vector<uint> aLow = default;
            Vector<uint> aHigh = default;
            Vector<uint> bLow = default;
            Vector<uint> bHigh = default;
            for (int r = 0; r < rounds; r++)
            {
                Vector.Widen(
                    new Vector<ushort>(words.Slice(at + r * step, step)),
                    out Vector<uint> low,
                    out Vector<uint> high
                );
                aLow += low;
                aHigh += high;
                bLow += aLow;
                bHigh += aHigh;
            }
            ulong blockSum = 0;
            ulong running = 0;
            ulong lagging = 0;
            for (int j = 0; j < lanes; j++)
            {
                blockSum += (ulong)aLow[j] + aHigh[j];
                running += (ulong)bLow[j] + bHigh[j];
                lagging += (ulong)j * aLow[j] + (ulong)(j + lanes) * aHigh[j];
            }
            any |= blockSum != 0;
            int count = rounds * step;
            s2 = (s2 + (ulong)count * s1 + (ulong)step * running - lagging) % M;
            s1 = (s1 + blockSum) % M;
            at += count;
        }
        for (; at < words.Length; at++)
        {
            any |= words[at] != 0;
            s1 += words[at];
            s2 += s1;
            if ((at & 1023) == 0)
            {
                s1 %= M;
                s2 %= M;
            }
        }
        if (BitConverter.IsLittleEndian)
        {
            s1 = s1 % M * 256;
            s2 = s2 % M * 256;
        }
        if ((data.Length & 1) != 0)
        {
            any |= data[^1] != 0;
            s1 += (ulong)data[^1] << 8;
            s2 += s1;
        }
        s1 %= M;
        s2 %= M;
        // A non-zero word makes s1 non-zero before reduction, and s2 with it.
        if (any && s1 == 0)
            s1 = M;
        if (any && s2 == 0)
            s2 = M;
        return (uint)(s2 << 16 | s1);
    }
}
