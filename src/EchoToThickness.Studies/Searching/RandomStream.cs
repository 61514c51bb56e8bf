using EchoToThickness.Signals;

namespace EchoToThickness.Studies.Searching;

/// <summary>Random numbers that depend on their seed only: SplitMix64 on a counter. Not thread-safe.</summary>
/// <param name="seed">Seed.</param>
public sealed class RandomStream(ulong seed)
{
    private ulong _state = SplitMix64.Mix(seed);

    /// <summary>The next number, evenly spread from 0 to under 1.</summary>
    public double NextDouble()
    {
        _state += SplitMix64.Increment;
        return (SplitMix64.Mix(_state) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>The next whole number from 0 to under a limit.</summary>
    /// <param name="limit">At least 1.</param>
    public int Next(int limit) => (int)(NextDouble() * limit);

    /// <summary>The next number of the standard normal distribution (Box and Muller 1958).</summary>
    public double NextNormal() => Math.Sqrt(-2 * Math.Log(1 - NextDouble())) * Math.Cos(2 * Math.PI * NextDouble());

    /// <summary>The numbers 0 to <paramref name="count"/> - 1 in random order (Fisher and Yates).</summary>
    /// <param name="count">How many.</param>
    public int[] Permutation(int count)
    {
        int[] order = [.. Enumerable.Range(0, count)];
        for (int i = count - 1; i > 0; i--)
        {
            int other = Next(i + 1);
            (order[i], order[other]) = (order[other], order[i]);
        }
        return order;
    }
}
