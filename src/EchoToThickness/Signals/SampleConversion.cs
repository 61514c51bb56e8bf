using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>
/// Stored counts to single precision: <c>y = (x - zero) * scale</c>, rounded after the subtraction and after the product. Every path
/// gives the same bits.
/// </summary>
public static class SampleConversion
{
    /// <summary>Signed 16-bit samples.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Counts that mean no signal.</param>
    /// <param name="scale">Output for one count.</param>
    /// <param name="destination">Shape [sample], at least as long.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToSingle(
        ReadOnlySpan<short> stored,
        float zeroCounts,
        float scale,
        Span<float> destination,
        KernelPath path
    )
    {
        Check(stored.Length, destination.Length);
        ref short x = ref MemoryMarshal.GetReference(stored);
        ref float y = ref MemoryMarshal.GetReference(destination);
        int n = stored.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            var zero = Vector512.Create(zeroCounts);
            var factor = Vector512.Create(scale);
            for (; i + 32 <= n; i += 32)
            {
                (Vector512<int> low, Vector512<int> high) = Vector512.Widen(Vector512.LoadUnsafe(ref x, (nuint)i));
                ((Vector512.ConvertToSingle(low) - zero) * factor).StoreUnsafe(ref y, (nuint)i);
                ((Vector512.ConvertToSingle(high) - zero) * factor).StoreUnsafe(ref y, (nuint)i + 16);
            }
        }
        else if (path == KernelPath.Portable)
        {
            var zero = new Vector<float>(zeroCounts);
            var factor = new Vector<float>(scale);
            for (; i + Vector<short>.Count <= n; i += Vector<short>.Count)
            {
                Vector.Widen(Vector.LoadUnsafe(ref x, (nuint)i), out Vector<int> low, out Vector<int> high);
                ((Vector.ConvertToSingle(low) - zero) * factor).StoreUnsafe(ref y, (nuint)i);
                ((Vector.ConvertToSingle(high) - zero) * factor).StoreUnsafe(ref y, (nuint)(i + Vector<float>.Count));
            }
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) = (Unsafe.Add(ref x, i) - zeroCounts) * scale;
    }

    /// <summary>Single-precision samples.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Value that means no signal.</param>
    /// <param name="scale">Output for one unit.</param>
    /// <param name="destination">Shape [sample], at least as long.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToSingle(
        ReadOnlySpan<float> stored,
        float zeroCounts,
        float scale,
        Span<float> destination,
        KernelPath path
    )
    {
        Check(stored.Length, destination.Length);
        ref float x = ref MemoryMarshal.GetReference(stored);
        ref float y = ref MemoryMarshal.GetReference(destination);
        int n = stored.Length;
        int i = 0;
        if (path == KernelPath.Wide)
        {
            var zero = Vector512.Create(zeroCounts);
            var factor = Vector512.Create(scale);
            for (; i + 16 <= n; i += 16)
                ((Vector512.LoadUnsafe(ref x, (nuint)i) - zero) * factor).StoreUnsafe(ref y, (nuint)i);
        }
        else if (path == KernelPath.Portable)
        {
            var zero = new Vector<float>(zeroCounts);
            var factor = new Vector<float>(scale);
            for (; i + Vector<float>.Count <= n; i += Vector<float>.Count)
                ((Vector.LoadUnsafe(ref x, (nuint)i) - zero) * factor).StoreUnsafe(ref y, (nuint)i);
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) = (Unsafe.Add(ref x, i) - zeroCounts) * scale;
    }

    /// <summary>Unsigned 16-bit samples.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Counts that mean no signal (32768 for offset binary).</param>
    /// <param name="scale">Output for one count.</param>
    /// <param name="destination">Shape [sample], at least as long.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToSingle(
        ReadOnlySpan<ushort> stored,
        float zeroCounts,
        float scale,
        Span<float> destination,
        KernelPath path
    )
    {
        Check(stored.Length, destination.Length);
        ref ushort x = ref MemoryMarshal.GetReference(stored);
        ref float y = ref MemoryMarshal.GetReference(destination);
        int n = stored.Length;
        int i = 0;
        if (path != KernelPath.Scalar)
        {
            var zero = new Vector<float>(zeroCounts);
            var factor = new Vector<float>(scale);
            for (; i + Vector<ushort>.Count <= n; i += Vector<ushort>.Count)
            {
                Vector.Widen(Vector.LoadUnsafe(ref x, (nuint)i), out Vector<uint> low, out Vector<uint> high);
                ((Vector.ConvertToSingle(Vector.AsVectorInt32(low)) - zero) * factor).StoreUnsafe(ref y, (nuint)i);
                ((Vector.ConvertToSingle(Vector.AsVectorInt32(high)) - zero) * factor).StoreUnsafe(
                    ref y,
                    (nuint)(i + Vector<float>.Count)
                );
            }
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) = (Unsafe.Add(ref x, i) - zeroCounts) * scale;
    }

    /// <summary>Signed 8-bit samples.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Counts that mean no signal.</param>
    /// <param name="scale">Output for one count.</param>
    /// <param name="destination">Shape [sample], at least as long.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToSingle(
        ReadOnlySpan<sbyte> stored,
        float zeroCounts,
        float scale,
        Span<float> destination,
        KernelPath path
    )
    {
        Check(stored.Length, destination.Length);
        ref sbyte x = ref MemoryMarshal.GetReference(stored);
        ref float y = ref MemoryMarshal.GetReference(destination);
        int n = stored.Length;
        int i = 0;
        if (path != KernelPath.Scalar)
        {
            for (; i + Vector<sbyte>.Count <= n; i += Vector<sbyte>.Count)
            {
                Vector.Widen(Vector.LoadUnsafe(ref x, (nuint)i), out Vector<short> low, out Vector<short> high);
                Words(low, zeroCounts, scale, ref y, i);
                Words(high, zeroCounts, scale, ref y, i + Vector<short>.Count);
            }
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) = (Unsafe.Add(ref x, i) - zeroCounts) * scale;
    }

    /// <summary>Unsigned 8-bit samples.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Counts that mean no signal (128 for offset binary).</param>
    /// <param name="scale">Output for one count.</param>
    /// <param name="destination">Shape [sample], at least as long.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToSingle(
        ReadOnlySpan<byte> stored,
        float zeroCounts,
        float scale,
        Span<float> destination,
        KernelPath path
    )
    {
        Check(stored.Length, destination.Length);
        ref byte x = ref MemoryMarshal.GetReference(stored);
        ref float y = ref MemoryMarshal.GetReference(destination);
        int n = stored.Length;
        int i = 0;
        if (path != KernelPath.Scalar)
        {
            for (; i + Vector<byte>.Count <= n; i += Vector<byte>.Count)
            {
                Vector.Widen(Vector.LoadUnsafe(ref x, (nuint)i), out Vector<ushort> low, out Vector<ushort> high);
                Words(Vector.AsVectorInt16(low), zeroCounts, scale, ref y, i);
                Words(Vector.AsVectorInt16(high), zeroCounts, scale, ref y, i + Vector<short>.Count);
            }
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) = (Unsafe.Add(ref x, i) - zeroCounts) * scale;
    }

    /// <summary>Double-precision samples: subtracted and multiplied in double, rounded once.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Value that means no signal.</param>
    /// <param name="scale">Output for one unit.</param>
    /// <param name="destination">Shape [sample], at least as long.</param>
    /// <param name="path">Implementation.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToSingle(
        ReadOnlySpan<double> stored,
        double zeroCounts,
        double scale,
        Span<float> destination,
        KernelPath path
    )
    {
        Check(stored.Length, destination.Length);
        ref double x = ref MemoryMarshal.GetReference(stored);
        ref float y = ref MemoryMarshal.GetReference(destination);
        int n = stored.Length;
        int i = 0;
        if (path != KernelPath.Scalar)
        {
            var zero = new Vector<double>(zeroCounts);
            var factor = new Vector<double>(scale);
            int half = Vector<double>.Count;
            for (; i + 2 * half <= n; i += 2 * half)
            {
                var low = (Vector.LoadUnsafe(ref x, (nuint)i) - zero) * factor;
                var high = (Vector.LoadUnsafe(ref x, (nuint)(i + half)) - zero) * factor;
                Vector.Narrow(low, high).StoreUnsafe(ref y, (nuint)i);
            }
        }
        for (; i < n; i++)
            Unsafe.Add(ref y, i) = (float)((Unsafe.Add(ref x, i) - zeroCounts) * scale);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Words(Vector<short> words, float zeroCounts, float scale, ref float y, int i)
    {
        var zero = new Vector<float>(zeroCounts);
        var factor = new Vector<float>(scale);
        Vector.Widen(words, out Vector<int> low, out Vector<int> high);
        ((Vector.ConvertToSingle(low) - zero) * factor).StoreUnsafe(ref y, (nuint)i);
        ((Vector.ConvertToSingle(high) - zero) * factor).StoreUnsafe(ref y, (nuint)(i + Vector<float>.Count));
    }

    private static void Check(int stored, int destination)
    {
        if (destination < stored)
            throw new ArgumentException(
                $"The destination holds {destination} samples; {stored} are needed.",
                nameof(destination)
            );
    }
}
