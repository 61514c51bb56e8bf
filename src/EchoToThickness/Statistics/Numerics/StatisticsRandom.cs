using EchoToThickness.Signals;

namespace EchoToThickness.Statistics.Numerics;

/// <summary>Random numbers from a seed and a stream, the same on every machine and any number of threads.</summary>
internal sealed class StatisticsRandom
{
    private readonly ulong _start;
    private ulong _counter;
    private double _spare = double.NaN;

    /// <param name="seed">Seed, a setting.</param>
    /// <param name="stream">Number of the trial, so that trials may run in any order.</param>
    public StatisticsRandom(ulong seed, ulong stream)
    {
        _start = SplitMix64.Mix(seed ^ SplitMix64.Mix(stream + SplitMix64.Increment));
    }

    /// <summary>Uniform above 0 and below 1.</summary>
    public double Uniform()
    {
        ulong bits = SplitMix64.Mix(_start + ++_counter * SplitMix64.Increment);
        return ((bits >> 12) + 0.5) * (1.0 / (1UL << 52));
    }

    /// <summary>Standard normal (polar method of Marsaglia and Bray 1964).</summary>
    public double Normal()
    {
        if (!double.IsNaN(_spare))
        {
            double kept = _spare;
            _spare = double.NaN;
            return kept;
        }
        while (true)
        {
            double a = 2 * Uniform() - 1;
            double b = 2 * Uniform() - 1;
            double s = a * a + b * b;
            if (s >= 1 || s == 0)
                continue;
            double factor = Math.Sqrt(-2 * Math.Log(s) / s);
            _spare = b * factor;
            return a * factor;
        }
    }

    /// <summary>An integer from 0 to below a limit.</summary>
    public int Below(int limit) => (int)(Uniform() * limit);
}
