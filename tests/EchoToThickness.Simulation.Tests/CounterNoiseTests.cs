using EchoToThickness.Simulation.Random;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class CounterNoiseTests
{
    [Fact]
    public void AddNormal_MillionDeviates_HasTheMomentsOfANormalDistribution()
    {
        const int n = 1_000_000;
        var samples = new float[n];
        CounterNoise.AddNormal(samples, 2.0, seed: 7, stream: 3);
        double[] z = samples.Select(v => v / 2.0).ToArray();
        // Five standard errors of each moment: 1/sqrt(n), sqrt(2/n), sqrt(6/n), sqrt(24/n); of a lag-1 correlation 1/sqrt(n).
        double unit = 5 / Math.Sqrt(n);
        Assert.InRange(z.Average(), -unit, unit);
        Assert.InRange(z.Average(v => v * v) - 1, -unit * Math.Sqrt(2), unit * Math.Sqrt(2));
        Assert.InRange(z.Average(v => v * v * v), -unit * Math.Sqrt(15), unit * Math.Sqrt(15));
        Assert.InRange(z.Average(v => v * v * v * v) - 3, -unit * Math.Sqrt(96), unit * Math.Sqrt(96));
        Assert.InRange(z.Skip(1).Zip(z, (a, b) => a * b).Average(), -unit, unit);
        Assert.InRange(z.Skip(2).Zip(z, (a, b) => a * b).Average(), -unit, unit);
    }

    [Fact]
    public void AddNormal_NeighbouringStreams_AreUncorrelated()
    {
        const int n = 200_000;
        var first = new float[n];
        var second = new float[n];
        CounterNoise.AddNormal(first, 1, 7, 3);
        CounterNoise.AddNormal(second, 1, 7, 4);
        Assert.InRange(first.Zip(second, (a, b) => (double)a * b).Average(), -5 / Math.Sqrt(n), 5 / Math.Sqrt(n));
    }

    [Fact]
    public void AddNormal_ShorterRecord_IsAPrefixOfTheLongerOne()
    {
        var odd = new float[7];
        var even = new float[8];
        CounterNoise.AddNormal(odd, 1, 1, 1);
        CounterNoise.AddNormal(even, 1, 1, 1);
        Assert.Equal(even[..7], odd);
    }

    [Fact]
    public void Uniform_ManyDraws_FillTheUnitIntervalEvenly()
    {
        var bins = new int[10];
        for (ulong i = 0; i < 100_000; i++)
            bins[(int)(10 * CounterNoise.Uniform(5, 9, i))]++;
        // A bin holds 10,000 +- 95 (binomial); five standard deviations.
        Assert.All(bins, count => Assert.InRange(count, 10_000 - 475, 10_000 + 475));
    }

    [Fact]
    public void NormalPair_AsBits_IsWhatAddNormalAdds()
    {
        var samples = new float[6];
        CounterNoise.AddNormal(samples, 1, 9, 4);
        for (int pair = 0; pair < 3; pair++)
        {
            (double first, double second) = CounterNoise.NormalPair(9, 4, (ulong)pair);
            Assert.Equal((float)first, samples[2 * pair]);
            Assert.Equal((float)second, samples[2 * pair + 1]);
        }
    }

    [Fact]
    public void Stream_EveryPurposeAndManyItems_AreAllDifferent()
    {
        var seen = new HashSet<ulong>();
        foreach (RandomStream purpose in Enum.GetValues<RandomStream>())
            for (ulong item = 0; item < 1000; item++)
                Assert.True(seen.Add(CounterNoise.Stream(purpose, item)));
    }
}
