using EchoToThickness.Signals;

namespace EchoToThickness.Simulation.Random;

/// <summary>
/// Random numbers from a counter: value = f(seed, stream, index), no state. Any order of evaluation and any number of threads gives the
/// same numbers.
/// </summary>
/// <remarks>
/// Uniform bits: the finaliser of SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014), applied to
/// the key of the stream and then to the index. Normal deviates: Box and Muller (1958).
/// </remarks>
public static class CounterNoise
{
    private const ulong Golden = SplitMix64.Increment;

    /// <summary>64 well-mixed bits.</summary>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence (for instance the cell).</param>
    /// <param name="index">Which number of the sequence.</param>
    public static ulong Bits(ulong seed, ulong stream, ulong index) =>
        SplitMix64.Mix(SplitMix64.Mix(seed ^ SplitMix64.Mix(stream + Golden)) + (index + 1) * Golden);

    /// <summary>A number uniform in [0, 1).</summary>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    /// <param name="index">Which number of the sequence.</param>
    public static double Uniform(ulong seed, ulong stream, ulong index) =>
        (Bits(seed, stream, index) >> 11) * (1.0 / (1UL << 53));

    /// <summary>Number of a sequence, for <c>stream</c> of the other members: well mixed, so that purposes and items never meet.</summary>
    /// <param name="purpose">What the numbers are for.</param>
    /// <param name="item">Which feature, cell or line; 0 where there is only one.</param>
    public static ulong Stream(RandomStream purpose, ulong item = 0) =>
        SplitMix64.Mix(((ulong)purpose << 56) + SplitMix64.Mix(item + Golden));

    /// <summary>One normal deviate of mean 0 and standard deviation 1.</summary>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    /// <param name="index">Which number of the sequence; uses the bits of indices 2 index and 2 index + 1.</param>
    public static double Normal(ulong seed, ulong stream, ulong index) => NormalPair(seed, stream, index).First;

    /// <summary>Two independent normal deviates of mean 0 and standard deviation 1 (Box and Muller).</summary>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    /// <param name="index">Which pair of the sequence; uses the bits of indices 2 index and 2 index + 1.</param>
    public static (double First, double Second) NormalPair(ulong seed, ulong stream, ulong index)
    {
        // 1 - u lies in (0, 1], so the logarithm is finite.
        double radius = Math.Sqrt(-2 * Math.Log(1 - Uniform(seed, stream, 2 * index)));
        (double sine, double cosine) = Math.SinCos(2 * Math.PI * Uniform(seed, stream, 2 * index + 1));
        return (radius * cosine, radius * sine);
    }

    /// <summary>Adds normal deviates to samples.</summary>
    /// <param name="samples">Shape [sample]; changed in place.</param>
    /// <param name="standardDeviation">Standard deviation, in the unit of the samples.</param>
    /// <param name="seed">Seed of the whole scene.</param>
    /// <param name="stream">Which sequence.</param>
    public static void AddNormal(Span<float> samples, double standardDeviation, ulong seed, ulong stream)
    {
        ulong key = SplitMix64.Mix(seed ^ SplitMix64.Mix(stream + Golden));
        for (int pair = 0; 2 * pair < samples.Length; pair++)
        {
            ulong counter = key + (ulong)(2 * pair + 1) * Golden;
            // 1 - u lies in (0, 1], so the logarithm is finite.
            double radius = Math.Sqrt(-2 * Math.Log(1 - (SplitMix64.Mix(counter) >> 11) * (1.0 / (1UL << 53))));
            double angle = (SplitMix64.Mix(counter + Golden) >> 11) * (2 * Math.PI / (1UL << 53));
            (double sine, double cosine) = Math.SinCos(angle);
            samples[2 * pair] += (float)(standardDeviation * radius * cosine);
            if (2 * pair + 1 < samples.Length)
                samples[2 * pair + 1] += (float)(standardDeviation * radius * sine);
        }
    }
}
