using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Median and median absolute deviation: NumPy (testdata/dsp/analytic.json), sorting, and what they are for.</summary>
public class RobustNoiseTests
{
    public static TheoryData<KernelPath> Paths => DspVectors.AllPaths;

    [Theory]
    [MemberData(nameof(Paths))]
    public void Median_NumPyVectors_Match(KernelPath path)
    {
        var reference = DspVectors.Read("analytic.json");
        foreach (string n in new[] { "15", "16" })
        {
            float[] x = DspVectors.Floats(DspVectors.Doubles(reference.GetProperty("m" + n)));
            // Values near 1 in single precision: 6e-8 each.
            Assert.Equal(reference.GetProperty("median" + n).GetDouble(), RobustNoise.Median(x, path), 2e-7);
            Assert.Equal(
                1.4826022185056018 * reference.GetProperty("mad" + n).GetDouble(),
                RobustNoise.StandardDeviation(x, path),
                1e-6
            );
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void MedianAndDeviation_EveryLength_MatchSorting(KernelPath path)
    {
        for (int length = 1; length <= 256; length++)
        {
            float[] x = DspVectors.Noise(length, length);
            if (length % 3 == 0)
                for (int i = 0; i < length; i++)
                    x[i] = MathF.Round(x[i] * 6) / 4;
            Assert.Equal(Sorted(x), RobustNoise.Median(x, path));
            Assert.Equal(
                Sorted(x.Select(v => MathF.Abs(v - 0.1f)).ToArray()),
                RobustNoise.MedianDeviation(x, 0.1f, path)
            );
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void Median_ExtremeValues_OrderLikeNumbers(KernelPath path)
    {
        float[] x =
        [
            float.MaxValue,
            -float.MaxValue,
            float.PositiveInfinity,
            float.NegativeInfinity,
            -0f,
            1e-45f,
            -1e-45f,
        ];
        Assert.Equal(0f, RobustNoise.Median(x, path));
        Assert.Equal(-5f, RobustNoise.Median([-5f], path));
        Assert.Equal(float.NegativeInfinity, RobustNoise.Median([float.NegativeInfinity], path));
        Assert.Throws<ArgumentException>(() => RobustNoise.Median([], path));
    }

    [Fact]
    public void StandardDeviation_GaussianNoiseWithStrongEchoes_IsThatOfTheNoise()
    {
        var random = new Random(5);
        var x = new float[20000];
        for (int i = 0; i < x.Length; i++)
            x[i] = (float)(
                0.01 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())
            );
        for (int i = 0; i < 400; i++)
            x[i * 50] = 0.9f;
        // 2 % of outliers raise the estimate by 2.5 %; its own scatter is 1.17 / sqrt(20000) = 0.8 %. The plain deviation is 0.127.
        Assert.Equal(0.01, RobustNoise.StandardDeviation(x, KernelPaths.Best), 0.0005);
    }

    private static float Sorted(float[] x)
    {
        float[] y = [.. x.Order()];
        return y.Length % 2 == 1 ? y[y.Length / 2] : 0.5f * (y[y.Length / 2 - 1] + y[y.Length / 2]);
    }
}
