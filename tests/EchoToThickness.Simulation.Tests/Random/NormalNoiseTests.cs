using EchoToThickness.Signals;
using EchoToThickness.Simulation.Random;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Random;

public sealed class NormalNoiseTests
{
    private const int Many = 1 << 20;

    [Fact]
    public void Fill_EveryLength_IsBoxAndMullerOfTheSameBits()
    {
        // The reference takes the same bits through double-precision library functions. Single precision rounds ln u at 1e-7 of it and
        // the product at 1e-7: 2e-6 absolute covers radii up to 6.6. Near u = 1 the uniform number itself is rounded at 2^-24.
        const ulong seed = 7;
        const ulong stream = 12345;
        ulong key = SplitMix64.Mix(seed ^ SplitMix64.Mix(stream + SplitMix64.Increment));
        double[] expected = new double[272];
        for (int i = 0; i < expected.Length; i++)
        {
            ulong word = SplitMix64.Mix(key + (ulong)(i / 16 * 8 + i % 8 + 1) * SplitMix64.Increment);
            float bits = (float)((uint)word >> 2) + 0.5f;
            double radius = Math.Sqrt(-2 * Math.Log(bits / (double)(1 << 30)));
            double angle = (int)(word >> 32) * Math.PI / (1L << 31);
            expected[i] = radius * (i % 16 < 8 ? Math.Cos(angle) : Math.Sin(angle));
        }
        for (int length = 0; length <= 256; length++)
        {
            float[] actual = new float[length];
            NormalNoise.Fill(actual, 1, seed, stream);
            for (int i = 0; i < length; i++)
                Assert.Equal(expected[i], actual[i], 2e-6);
        }
    }

    [Fact]
    public void Add_PartOfARecord_LeavesTheRestAndScales()
    {
        float[] samples = [.. Enumerable.Repeat(10f, 40)];
        NormalNoise.Add(samples.AsSpan(0, 23), 0.5f, 1, 2);
        float[] plain = new float[23];
        NormalNoise.Fill(plain, 1, 1, 2);
        for (int i = 0; i < 23; i++)
            Assert.Equal(10 + 0.5 * plain[i], samples[i], 2e-6);
        Assert.All(samples[23..], value => Assert.Equal(10f, value));
    }

    [Fact]
    public void Fill_AMillion_HasTheMomentsOfTheNormalCurve()
    {
        float[] samples = Draw(Many);
        double[] moments = new double[7];
        foreach (float value in samples)
        {
            double power = 1;
            for (int k = 1; k < moments.Length; k++)
                moments[k] += power *= value;
        }
        // Moments 0, 1, 0, 3, 0, 15; each within 4 standard deviations of its mean over the draw, sqrt((m2k - mk^2) / N).
        double[] expected = [1, 0, 1, 0, 3, 0, 15];
        double[] variance = [0, 1, 2, 15, 96, 945, 10170];
        for (int k = 1; k < moments.Length; k++)
            Assert.Equal(expected[k], moments[k] / Many, 4 * Math.Sqrt(variance[k] / Many));
    }

    [Fact]
    public void Fill_AMillion_PassesKolmogorovAndSmirnov()
    {
        float[] samples = Draw(Many);
        Array.Sort(samples);
        double distance = 0;
        for (int i = 0; i < Many; i++)
        {
            double cdf = NormalCurve.Cdf(samples[i]);
            distance = Math.Max(distance, Math.Max(Math.Abs(cdf - i / (double)Many), Math.Abs((i + 1.0) / Many - cdf)));
        }
        // 1.628 / sqrt(N): critical value at 1 %.
        Assert.InRange(distance * Math.Sqrt(Many), 0.2, 1.628);
    }

    [Fact]
    public void Fill_SixteenMillion_HasTheTailsOfTheNormalCurve()
    {
        int[] above = new int[11];
        int[] below = new int[11];
        float[] samples = new float[Many];
        for (ulong stream = 0; stream < 16; stream++)
        {
            NormalNoise.Fill(samples, 1, 99, stream);
            foreach (float value in samples)
            {
                int last = Math.Min(10, (int)(2 * Math.Abs(value)));
                int[] tail = value > 0 ? above : below;
                for (int k = 0; k <= last; k++)
                    tail[k]++;
            }
        }
        // Each half standard deviation up to 5: counts within 4 standard deviations of the binomial law (5 sigma: 4.8 ± 2.2 a side).
        for (int k = 1; k <= 10; k++)
        {
            double tail = NormalCurve.Tail(k / 2.0);
            double expected = 16.0 * Many * tail;
            double spread = 4 * Math.Sqrt(expected * (1 - tail));
            Assert.InRange(above[k], expected - spread, expected + spread);
            Assert.InRange(below[k], expected - spread, expected + spread);
        }
        Assert.True(above[10] + below[10] > 0, "Nothing lies beyond five standard deviations.");
    }

    [Fact]
    public void Fill_NeighbouringSamplesAndStreams_DoNotCorrelate()
    {
        float[] one = Draw(Many);
        float[] other = new float[Many];
        NormalNoise.Fill(other, 1, 3, 1);
        // A correlation of independent numbers has the standard deviation 1 / sqrt(N). Lags 1, 2, 8 (cosine and sine of one word), 16.
        double limit = 4.5 / Math.Sqrt(Many);
        foreach (int lag in (int[])[1, 2, 3, 7, 8, 9, 16, 1000])
            Assert.InRange(Correlation(one.AsSpan(lag), one.AsSpan(0, Many - lag)), -limit, limit);
        Assert.InRange(Correlation(one, other), -limit, limit);
        // Squares catch what signs hide: sine and cosine of one word share their radius only.
        float[] squares = [.. one.Select(v => v * v - 1)];
        foreach (int lag in (int[])[1, 8, 16])
            Assert.InRange(Correlation(squares.AsSpan(lag), squares.AsSpan(0, Many - lag)), -2 * limit, 2 * limit);
    }

    [Fact]
    public void Fill_FixedSeed_GivesTheNumbersItAlwaysGave()
    {
        // Bits of the first deviates: what a stack of an earlier version was made of. Only a decision may change them.
        float[] samples = new float[4];
        NormalNoise.Fill(samples, 1, 1, 1);
        Assert.Equal(Golden, samples.Select(BitConverter.SingleToInt32Bits));
    }

    private static readonly int[] Golden = [1067251823, 1069854880, -1085344399, 1066491116];

    private static float[] Draw(int count)
    {
        float[] samples = new float[count];
        NormalNoise.Fill(samples, 1, 3, 0);
        return samples;
    }

    private static double Correlation(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += (double)a[i] * b[i];
        return sum / a.Length;
    }
}
