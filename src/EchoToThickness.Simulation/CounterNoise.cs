using EchoToThickness.Signals;

namespace EchoToThickness.Simulation;

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
