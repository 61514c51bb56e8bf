using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Against plain loops at every length 0..256 and odd offsets; ties, rails, NaN.</summary>
public class MagnitudeTests
{
    public static TheoryData<KernelPath> Paths => DspVectors.AllPaths;

    [Theory]
    [MemberData(nameof(Paths))]
    public void Int16_EveryLengthAndOffset_MatchesPlainLoop(KernelPath path)
    {
        var random = new Random(11);
        var buffer = new short[270];
        for (int length = 0; length <= 256; length++)
        {
            for (int offset = 0; offset < 4; offset += 3)
            {
                // Few distinct values: ties are the rule.
                for (int i = 0; i < buffer.Length; i++)
                    buffer[i] = (short)random.Next(-40, 41);
                if (length % 5 == 0 && length > 0)
                    buffer[offset + random.Next(length)] = short.MinValue;
                ReadOnlySpan<short> x = buffer.AsSpan(offset, length);
                int best = -1;
                for (int i = 0; i < length; i++)
                {
                    if (best < 0 || Math.Abs((int)x[i]) > Math.Abs((int)x[best]))
                        best = i;
                }
                Assert.Equal(best, Magnitude.IndexOfLargest(x, path));
                foreach (int level in new[] { -5, 0, 1, 20, 39, 40, 41, 32767, 32768, 32769 })
                {
                    int first = -1;
                    for (int i = length - 1; i >= 0; i--)
                    {
                        if (Math.Abs((int)x[i]) >= level)
                            first = i;
                    }
                    Assert.Equal(first, Magnitude.FirstAtLeast(x, level, path));
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void Single_EveryLengthAndOffset_MatchesPlainLoop(KernelPath path)
    {
        var random = new Random(12);
        var buffer = new float[270];
        for (int length = 0; length <= 256; length++)
        {
            for (int offset = 0; offset < 4; offset += 3)
            {
                for (int i = 0; i < buffer.Length; i++)
                    buffer[i] = random.Next(-40, 41) / 8f;
                for (int k = 0; k < length % 4; k++)
                    buffer[offset + random.Next(Math.Max(length, 1))] = float.NaN;
                float[] x = buffer.AsSpan(offset, length).ToArray();
                ReadOnlySpan<float> span = buffer.AsSpan(offset, length);
                float[] numbers = x.Where(v => !float.IsNaN(v)).ToArray();
                float largest = numbers.Length == 0 ? -1 : numbers.Max(MathF.Abs);
                float signed = numbers.Length == 0 ? float.NegativeInfinity : numbers.Max();
                Assert.Equal(Array.FindIndex(x, v => MathF.Abs(v) == largest), Magnitude.IndexOfLargest(span, path));
                Assert.Equal(Array.FindIndex(x, v => v == signed), Magnitude.IndexOfLargestSigned(span, path));
                Assert.Equal(largest, Magnitude.Largest(span, path));
                Assert.Equal(signed, Magnitude.LargestSigned(span, path));
                Assert.Equal(x.All(float.IsFinite), Magnitude.AllFinite(span, path));
                foreach (float level in new[] { -9f, -1f, 0f, 0.125f, 4.875f, 5f, 5.1f })
                {
                    Assert.Equal(
                        Array.FindIndex(x, v => MathF.Abs(v) >= level),
                        Magnitude.FirstAtLeast(span, level, path)
                    );
                    Assert.Equal(Array.FindIndex(x, v => v >= level), Magnitude.FirstSignedAtLeast(span, level, path));
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void AllFinite_OneBadSampleAnywhere_SeesIt(KernelPath path)
    {
        foreach (float bad in new[] { float.NaN, float.PositiveInfinity, float.NegativeInfinity, -float.NaN })
        {
            for (int i = 0; i < 70; i++)
            {
                float[] x = DspVectors.Noise(70, i);
                Assert.True(Magnitude.AllFinite(x, path));
                x[i] = bad;
                Assert.False(Magnitude.AllFinite(x, path));
            }
        }
    }

    [Theory]
    [MemberData(nameof(Paths))]
    public void SquareRootAndRectify_EveryLength_MatchPlainLoop(KernelPath path)
    {
        for (int length = 0; length <= 256; length++)
        {
            float[] x = DspVectors.Noise(length, length);
            float[] rectified = [.. x];
            Magnitude.Rectify(rectified, path);
            Assert.Equal(x.Select(MathF.Abs), rectified);
            Magnitude.SquareRoot(rectified, path);
            Assert.Equal(x.Select(v => MathF.Sqrt(MathF.Abs(v))), rectified);
        }
    }
}
