using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using EchoToThickness.Signals;

namespace EchoToThickness.Simulation.Random;

/// <summary>
/// White Gaussian noise from a counter, several times faster than one deviate at a time: sample i of a stream is a fixed function of
/// (seed, stream, i), whatever the length asked for, the order of calls, the threads or the width of the machine's vectors.
/// </summary>
/// <remarks>
/// <para>Method: Box and Muller, "A note on the generation of random normal deviates" (1958). One 64-bit word of SplitMix64 makes two
/// deviates: its low 30 bits the radius <c>sqrt(-2 ln((n + 1/2) / 2^30))</c>, its high 32 bits the angle. Eight words at a time.</para>
/// <para>Logarithm: exponent and mantissa in [sqrt(1/2), sqrt(2)), then <c>ln m = 2 atanh((m - 1) / (m + 1))</c> by its series to the
/// ninth power (next term below 1e-9). Sine and cosine: quadrant by integer, then Taylor series to the ninth and tenth power on
/// [-pi/4, pi/4] (next terms below 2e-9). Only IEEE 754 single-precision additions, products, quotients and square roots are used, none
/// fused, so every machine rounds alike.</para>
/// <para>Range: 6.55 standard deviations; a true Gaussian goes beyond it once in 2e10 deviates. Allocates nothing.</para>
/// </remarks>
public static class NormalNoise
{
    private const int Block = 16;

    /// <summary>Adds deviates to samples.</summary>
    /// <param name="samples">Shape [sample]; changed in place.</param>
    /// <param name="standardDeviation">Standard deviation, in the unit of the samples.</param>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    /// <param name="firstSample">Number in the sequence of the first deviate; a multiple of 16.</param>
    public static void Add(Span<float> samples, float standardDeviation, ulong seed, ulong stream, int firstSample = 0)
    {
        if (firstSample < 0 || firstSample % Block != 0)
            throw new ArgumentOutOfRangeException(
                nameof(firstSample),
                firstSample,
                $"The first sample must be a multiple of {Block}."
            );
        ulong firstWord = (ulong)firstSample / 2;
        ulong key = Key(seed, stream);
        Vector256<float> scale = Vector256.Create(standardDeviation);
        ref float first = ref MemoryMarshal.GetReference(samples);
        int whole = samples.Length / Block * Block;
        for (int i = 0; i < whole; i += Block)
        {
            (Vector256<float> a, Vector256<float> b) = Next(key, firstWord + (uint)i / 2);
            (Vector256.LoadUnsafe(ref first, (nuint)i) + scale * a).StoreUnsafe(ref first, (nuint)i);
            (Vector256.LoadUnsafe(ref first, (nuint)i + 8) + scale * b).StoreUnsafe(ref first, (nuint)i + 8);
        }
        if (whole == samples.Length)
            return;
        Span<float> rest = stackalloc float[Block];
        rest.Clear();
        samples[whole..].CopyTo(rest);
        (Vector256<float> c, Vector256<float> d) = Next(key, firstWord + (uint)whole / 2);
        ref float last = ref MemoryMarshal.GetReference(rest);
        (Vector256.LoadUnsafe(ref last) + scale * c).StoreUnsafe(ref last);
        (Vector256.LoadUnsafe(ref last, 8) + scale * d).StoreUnsafe(ref last, 8);
        rest[..(samples.Length - whole)].CopyTo(samples[whole..]);
    }

    /// <summary>Fills samples with deviates.</summary>
    /// <param name="samples">Shape [sample]; overwritten.</param>
    /// <param name="standardDeviation">Standard deviation, in the unit of the samples.</param>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    /// <param name="firstSample">Number in the sequence of the first deviate; a multiple of 16.</param>
    public static void Fill(Span<float> samples, float standardDeviation, ulong seed, ulong stream, int firstSample = 0)
    {
        samples.Clear();
        Add(samples, standardDeviation, seed, stream, firstSample);
    }

    /// <summary>One standard deviate: the first of a stream.</summary>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    public static double First(ulong seed, ulong stream)
    {
        Span<float> one = stackalloc float[1];
        Fill(one, 1, seed, stream);
        return one[0];
    }

    private static ulong Key(ulong seed, ulong stream) =>
        SplitMix64.Mix(seed ^ SplitMix64.Mix(stream + SplitMix64.Increment));

    // Words firstWord..firstWord+7 of the stream: eight cosines, eight sines.
    private static (Vector256<float> Cosines, Vector256<float> Sines) Next(ulong key, ulong firstWord)
    {
        Span<ulong> words = stackalloc ulong[8];
        ulong counter = key + (firstWord + 1) * SplitMix64.Increment;
        for (int i = 0; i < words.Length; i++, counter += SplitMix64.Increment)
            words[i] = SplitMix64.Mix(counter);
        Vector256<ulong> low = Vector256.Create<ulong>(words);
        Vector256<ulong> high = Vector256.Create<ulong>(words[4..]);
        Vector256<uint> radiusBits = Vector256.Narrow(low, high);
        Vector256<int> angleBits = Vector256.Narrow(low >>> 32, high >>> 32).AsInt32();
        Vector256<float> radius = Radius((radiusBits >>> 2).AsInt32());
        (Vector256<float> sine, Vector256<float> cosine) = SineCosine(angleBits);
        return (radius * cosine, radius * sine);
    }

    private static Vector256<float> Radius(Vector256<int> bits)
    {
        // (bits + 1/2) / 2^30, in (0, 1].
        Vector256<float> uniform =
            (Vector256.ConvertToSingle(bits) + Vector256.Create(0.5f)) * Vector256.Create(1f / (1 << 30));
        const int rootHalf = 0x3F3504F3;
        Vector256<int> raw = uniform.AsInt32();
        Vector256<int> exponent = (raw - Vector256.Create(rootHalf)) >> 23;
        Vector256<float> mantissa = (raw - (exponent << 23)).AsSingle();
        Vector256<float> one = Vector256<float>.One;
        Vector256<float> ratio = (mantissa - one) / (mantissa + one);
        Vector256<float> square = ratio * ratio;
        Vector256<float> series = Vector256.Create(1f / 9);
        series = series * square + Vector256.Create(1f / 7);
        series = series * square + Vector256.Create(1f / 5);
        series = series * square + Vector256.Create(1f / 3);
        series = series * square + one;
        // -2 ln u, never below 0: the series is negative wherever the exponent is 0 and u below 1.
        Vector256<float> twice =
            Vector256.Create(-4f) * (ratio * series)
            - Vector256.ConvertToSingle(exponent) * Vector256.Create(2 * 0.693147180559945f);
        return Vector256.Sqrt(Vector256.Max(twice, Vector256<float>.Zero));
    }

    private static (Vector256<float> Sine, Vector256<float> Cosine) SineCosine(Vector256<int> turns)
    {
        // turns is a signed fraction of half a circle, 2^31 = pi. Nearest quadrant and the rest of it:
        Vector256<int> quadrant = (turns + Vector256.Create(1 << 29)) >> 30;
        Vector256<float> x =
            Vector256.ConvertToSingle(turns - (quadrant << 30)) * Vector256.Create((float)(Math.PI / (1L << 31)));
        Vector256<float> square = x * x;
        Vector256<float> one = Vector256<float>.One;
        Vector256<float> sine = Vector256.Create(1f / 362880);
        sine = sine * square - Vector256.Create(1f / 5040);
        sine = sine * square + Vector256.Create(1f / 120);
        sine = sine * square - Vector256.Create(1f / 6);
        sine = (sine * square + one) * x;
        Vector256<float> cosine = Vector256.Create(-1f / 3628800);
        cosine = cosine * square + Vector256.Create(1f / 40320);
        cosine = cosine * square - Vector256.Create(1f / 720);
        cosine = cosine * square + Vector256.Create(1f / 24);
        cosine = cosine * square - Vector256.Create(0.5f);
        cosine = cosine * square + one;
        // Quadrant q: sin(x + q pi/2) and cos(x + q pi/2); odd quadrants exchange, bit 1 turns signs.
        Vector256<int> odd = Vector256<int>.Zero - (quadrant & Vector256<int>.One);
        Vector256<int> sineSign = (quadrant & Vector256.Create(2)) << 30;
        Vector256<int> cosineSign = ((quadrant + Vector256<int>.One) & Vector256.Create(2)) << 30;
        Vector256<float> turnedSine = Vector256.ConditionalSelect(odd.AsSingle(), cosine, sine);
        Vector256<float> turnedCosine = Vector256.ConditionalSelect(odd.AsSingle(), sine, cosine);
        return ((turnedSine.AsInt32() ^ sineSign).AsSingle(), (turnedCosine.AsInt32() ^ cosineSign).AsSingle());
    }
}
