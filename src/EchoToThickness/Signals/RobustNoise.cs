using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>
/// Noise that echoes do not inflate: median absolute deviation times 1.4826, the standard deviation of Gaussian noise. Exact
/// selection without sorting, allocation or scratch; every path gives the same bits.
/// </summary>
/// <remarks>
/// The k-th smallest value is found bit by bit: floats order like their bits (after a fold of the sign), and each of 32 passes counts
/// how many values lie under a trial pattern. The median of an even count is the mean of the middle two, as numpy.median. NaN must
/// not occur (it orders beyond infinity). Source of the factor: 1 / Phi^-1(3/4) = 1.4826022185 (Rousseeuw and Croux 1993).
/// </remarks>
public static class RobustNoise
{
    /// <summary>Median absolute deviation to standard deviation of Gaussian noise, <c>1 / Phi^-1(3/4)</c>.</summary>
    public const double GaussianFactor = 1.482602218505602;

    /// <summary>Median.</summary>
    /// <param name="samples">Shape [sample], at least one.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">No samples.</exception>
    public static float Median(ReadOnlySpan<float> samples, KernelPath path) => Middle(samples, 0, false, path);

    /// <summary>Median of <c>|x - centre|</c>.</summary>
    /// <param name="samples">Shape [sample], at least one.</param>
    /// <param name="centre">What deviations are taken from: 0 where the record has no offset, else its median.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">No samples.</exception>
    public static float MedianDeviation(ReadOnlySpan<float> samples, float centre, KernelPath path) =>
        Middle(samples, centre, true, path);

    /// <summary>Standard deviation of the noise: 1.4826 times the median deviation from the median.</summary>
    /// <param name="samples">Shape [sample], at least one.</param>
    /// <param name="path">Implementation.</param>
    /// <exception cref="ArgumentException">No samples.</exception>
    public static double StandardDeviation(ReadOnlySpan<float> samples, KernelPath path) =>
        GaussianFactor * MedianDeviation(samples, Median(samples, path), path);

    private static float Middle(ReadOnlySpan<float> samples, float centre, bool deviation, KernelPath path)
    {
        if (samples.IsEmpty)
            throw new ArgumentException("A median needs at least one sample.", nameof(samples));
        int n = samples.Length;
        int low = Select(samples, centre, deviation, (n - 1) / 2, path);
        if ((n & 1) == 1)
            return Value(low);
        // The next order statistic is the same value when enough samples are at or under it, else the smallest one above.
        int high =
            CountAtMost(samples, centre, deviation, low, path) > n / 2
                ? low
                : SmallestAbove(samples, centre, deviation, low);
        return 0.5f * (Value(low) + Value(high));
    }

    // k-th smallest (from 0) as an ordered key: the largest key t such that fewer than k + 1 samples lie under t.
    private static int Select(ReadOnlySpan<float> samples, float centre, bool deviation, int k, KernelPath path)
    {
        // Keys of magnitudes are not negative; keys of signed values start at the bottom.
        int key = deviation ? 0 : int.MinValue;
        for (int bit = 30; bit >= 0; bit--)
        {
            int trial = key + (1 << bit);
            if (CountAtMost(samples, centre, deviation, trial - 1, path) <= k)
                key = trial;
            if (bit == 30 && !deviation)
            {
                // Signed keys span 32 bits: the step of 2^30 is tried up to three times.
                for (int more = 0; more < 2; more++)
                {
                    trial = key + (1 << 30);
                    if (trial > key && CountAtMost(samples, centre, false, trial - 1, path) <= k)
                        key = trial;
                }
            }
        }
        return key;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int CountAtMost(ReadOnlySpan<float> samples, float centre, bool deviation, int key, KernelPath path)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        int n = samples.Length;
        int i = 0;
        int count = 0;
        if (path == KernelPath.Wide)
        {
            var limit = Vector512.Create(key);
            var middle = Vector512.Create(centre);
            var sum = Vector512<int>.Zero;
            if (deviation)
            {
                for (; i + 16 <= n; i += 16)
                {
                    var d = Vector512.Abs(Vector512.LoadUnsafe(ref x, (nuint)i) - middle).AsInt32();
                    sum -= Vector512.LessThanOrEqual(d, limit);
                }
            }
            else
            {
                for (; i + 16 <= n; i += 16)
                {
                    var b = Vector512.LoadUnsafe(ref x, (nuint)i).AsInt32();
                    b ^= Vector512.ShiftRightLogical(Vector512.ShiftRightArithmetic(b, 31), 1);
                    sum -= Vector512.LessThanOrEqual(b, limit);
                }
            }
            count = Vector512.Sum(sum);
        }
        else if (path == KernelPath.Portable)
        {
            var limit = new Vector<int>(key);
            var middle = new Vector<float>(centre);
            var sum = Vector<int>.Zero;
            for (; i + Vector<int>.Count <= n; i += Vector<int>.Count)
            {
                var v = Vector.LoadUnsafe(ref x, (nuint)i);
                Vector<int> b;
                if (deviation)
                {
                    b = Vector.AsVectorInt32(Vector.Abs(v - middle));
                }
                else
                {
                    b = Vector.AsVectorInt32(v);
                    b ^= Vector.ShiftRightLogical(Vector.ShiftRightArithmetic(b, 31), 1);
                }
                sum -= Vector.LessThanOrEqual(b, limit);
            }
            count = Vector.Sum(sum);
        }
        for (; i < n; i++)
        {
            if (Key(Unsafe.Add(ref x, i), centre, deviation) <= key)
                count++;
        }
        return count;
    }

    private static int SmallestAbove(ReadOnlySpan<float> samples, float centre, bool deviation, int key)
    {
        int smallest = int.MaxValue;
        foreach (float sample in samples)
        {
            int k = Key(sample, centre, deviation);
            if (k > key && k < smallest)
                smallest = k;
        }
        return smallest;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Key(float x, float centre, bool deviation)
    {
        if (deviation)
            return BitConverter.SingleToInt32Bits(MathF.Abs(x - centre));
        int bits = BitConverter.SingleToInt32Bits(x);
        return bits ^ (int)((uint)(bits >> 31) >> 1);
    }

    private static float Value(int key) => BitConverter.Int32BitsToSingle(key ^ (int)((uint)(key >> 31) >> 1));
}
