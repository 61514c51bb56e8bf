using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>
/// The shuffle filter: byte k of element i lies at <c>k * n + i</c>; bytes after the last whole element stay where they are.
/// Vectors of the machine's width with a scalar tail; sizes 2, 4 and 8 by widening and shifting, others by the definition.
/// </summary>
internal static class ByteShuffle
{
    public static void Undo(ReadOnlySpan<byte> shuffled, Span<byte> plain, int elementBytes)
    {
        int count = shuffled.Length / elementBytes;
        int whole = count * elementBytes;
        shuffled[whole..].CopyTo(plain[whole..]);
        int done = BitConverter.IsLittleEndian
            ? elementBytes switch
            {
                1 => Copy(shuffled, plain),
                2 => Undo2(shuffled, plain, count),
                4 => Undo4(shuffled, plain, count),
                8 => Undo8(shuffled, plain, count),
                _ => 0,
            }
            : 0;
        UndoScalar(shuffled, plain, elementBytes, count, done);
    }

    /// <summary>The definition, from element <paramref name="from"/> on.</summary>
    public static void UndoScalar(ReadOnlySpan<byte> shuffled, Span<byte> plain, int elementBytes, int count, int from)
    {
        for (int i = from; i < count; i++)
        {
            for (int k = 0; k < elementBytes; k++)
                plain[i * elementBytes + k] = shuffled[k * count + i];
        }
    }

    /// <summary>Applies the filter.</summary>
    public static void Apply(ReadOnlySpan<byte> plain, Span<byte> shuffled, int elementBytes)
    {
        int count = plain.Length / elementBytes;
        int whole = count * elementBytes;
        plain[whole..].CopyTo(shuffled[whole..]);
        for (int k = 0; k < elementBytes; k++)
        {
            Span<byte> lane = shuffled.Slice(k * count, count);
            for (int i = 0; i < lane.Length; i++)
                lane[i] = plain[i * elementBytes + k];
        }
    }

    private static int Copy(ReadOnlySpan<byte> shuffled, Span<byte> plain)
    {
        shuffled.CopyTo(plain);
        return shuffled.Length;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Undo2(ReadOnlySpan<byte> s, Span<byte> plain, int count)
    {
        int lanes = Vector<byte>.Count;
        Span<ushort> words = MemoryMarshal.Cast<byte, ushort>(plain);
        int i = 0;
        for (; i <= count - lanes; i += lanes)
        {
            Pair(s, i, i + count, out Vector<ushort> a, out Vector<ushort> b);
            a.CopyTo(words[i..]);
            b.CopyTo(words[(i + lanes / 2)..]);
        }
        return i;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Undo4(ReadOnlySpan<byte> s, Span<byte> plain, int count)
    {
        int lanes = Vector<byte>.Count;
        Span<uint> words = MemoryMarshal.Cast<byte, uint>(plain);
        int i = 0;
        for (; i <= count - lanes; i += lanes)
        {
            Pair(s, i, i + count, out Vector<ushort> low0, out Vector<ushort> low1);
            Pair(s, i + 2 * count, i + 3 * count, out Vector<ushort> high0, out Vector<ushort> high1);
            Store(low0, high0, words[i..]);
            Store(low1, high1, words[(i + lanes / 2)..]);
        }
        return i;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Undo8(ReadOnlySpan<byte> s, Span<byte> plain, int count)
    {
        int lanes = Vector<byte>.Count;
        int quarter = lanes / 4;
        Span<ulong> words = MemoryMarshal.Cast<byte, ulong>(plain);
        Span<uint> low = stackalloc uint[lanes];
        Span<uint> high = stackalloc uint[lanes];
        int i = 0;
        for (; i <= count - lanes; i += lanes)
        {
            Quad(s, i, count, low);
            Quad(s, i + 4 * count, count, high);
            for (int k = 0; k < lanes; k += quarter)
            {
                Vector.Widen(new Vector<uint>(low[k..]), out Vector<ulong> l0, out Vector<ulong> l1);
                Vector.Widen(new Vector<uint>(high[k..]), out Vector<ulong> h0, out Vector<ulong> h1);
                (l0 | h0 << 32).CopyTo(words[(i + k)..]);
                (l1 | h1 << 32).CopyTo(words[(i + k + quarter / 2)..]);
            }
        }
        return i;
    }

    private static void Quad(ReadOnlySpan<byte> s, int at, int count, Span<uint> words)
    {
        Pair(s, at, at + count, out Vector<ushort> low0, out Vector<ushort> low1);
        Pair(s, at + 2 * count, at + 3 * count, out Vector<ushort> high0, out Vector<ushort> high1);
        Store(low0, high0, words);
        Store(low1, high1, words[(words.Length / 2)..]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Pair(ReadOnlySpan<byte> s, int low, int high, out Vector<ushort> a, out Vector<ushort> b)
    {
        Vector.Widen(new Vector<byte>(s[low..]), out Vector<ushort> l0, out Vector<ushort> l1);
        Vector.Widen(new Vector<byte>(s[high..]), out Vector<ushort> h0, out Vector<ushort> h1);
        a = l0 | h0 << 8;
        b = l1 | h1 << 8;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Store(Vector<ushort> low, Vector<ushort> high, Span<uint> words)
    {
        Vector.Widen(low, out Vector<uint> l0, out Vector<uint> l1);
        Vector.Widen(high, out Vector<uint> h0, out Vector<uint> h1);
        (l0 | h0 << 16).CopyTo(words);
        (l1 | h1 << 16).CopyTo(words[Vector<uint>.Count..]);
    }
}
