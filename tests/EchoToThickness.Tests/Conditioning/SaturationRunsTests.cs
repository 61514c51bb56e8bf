using System.Runtime.InteropServices;
using EchoToThickness.Conditioning;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Conditioning;

public class SaturationRunsTests
{
    [Fact]
    public void Detect_RailsOfEveryIntegerType_FindsTheRuns()
    {
        Check<sbyte>(SampleType.Int8, [0, 127, 127, 5, -128, -128, -128, 0, 127], [(1, 2), (4, 6)]);
        Check<byte>(SampleType.UInt8, [128, 255, 255, 130, 0, 0, 0, 128, 255], [(1, 2), (4, 6)]);
        Check<short>(SampleType.Int16, [0, 32767, 32767, 5, -32768, -32768, -32768, 0, 32767], [(1, 2), (4, 6)]);
        Check<ushort>(SampleType.UInt16, [32768, 65535, 65535, 5, 0, 0, 0, 32768, 65535], [(1, 2), (4, 6)]);
    }

    [Fact]
    public void Detect_BothRailsTouching_AreTwoRuns() =>
        Check<short>(SampleType.Int16, [32767, 32767, -32768, -32768], [(0, 1), (2, 3)]);

    [Fact]
    public void Detect_ShorterThanAskedFor_FindsNothing()
    {
        var runs = new SaturationRuns(6);
        runs.Detect(
            Bytes<short>([0, 32767, 32767, 32767, 0, 0]),
            SampleType.Int16,
            AmplitudeScale.For(SampleType.Int16),
            4
        );
        Assert.Equal(0, runs.Count);
        runs.Detect(
            Bytes<short>([0, 32767, 32767, 32767, 0, 0]),
            SampleType.Int16,
            AmplitudeScale.For(SampleType.Int16),
            0
        );
        Assert.Equal(0, runs.Count);
    }

    [Fact]
    public void Detect_FloatingPointPlateau_CountsFromThreeEqualExtremes()
    {
        Check<float>(SampleType.Float32, [0, 0.4f, 0.9f, 0.9f, 0.9f, 0.2f, -0.7f, -0.7f, 0.1f], [(2, 4)]);
        Check<double>(SampleType.Float64, [0, 0.4, 0.9, 0.9, 0.8, -0.7, -0.7, -0.7, 0.1], [(5, 7)]);
    }

    [Fact]
    public void Detect_SilenceAtTheLowestValue_IsNotSaturation()
    {
        // A rectified record rests on zero, its lowest value.
        Check<float>(SampleType.Float32, [0, 0, 0, 0, 0.5f, 0.2f, 0, 0, 0], []);
        Check<float>(SampleType.Float32, [0.3f, 0.3f, 0.3f, 0.3f], []);
        Check<short>(SampleType.Int16, [0, 0, 0, 0, 0], []);
    }

    [Fact]
    public void Detect_RailsBelowTheType_AreObeyed()
    {
        // 14 bits in 16.
        var runs = new SaturationRuns(6);
        runs.Detect(
            Bytes<short>([0, 8191, 8191, 0, -8192, -8192]),
            SampleType.Int16,
            new AmplitudeScale(8191, 0, -8192, 8191),
            2
        );
        Assert.Equal(2, runs.Count);
        Assert.Equal(4, runs.SampleCount);
        Assert.True(runs.Touch(2, 3));
        Assert.False(runs.Touch(3, 3));
        Assert.True(runs.Touch(0, 1));
        Assert.False(runs.Touch(0, 0));
    }

    private static byte[] Bytes<T>(T[] samples)
        where T : unmanaged => MemoryMarshal.AsBytes<T>(samples).ToArray();

    private static void Check<T>(SampleType type, T[] samples, (int, int)[] expected)
        where T : unmanaged
    {
        var runs = new SaturationRuns(samples.Length);
        runs.Detect(Bytes(samples), type, AmplitudeScale.For(type), 2);
        Assert.Equal(expected, Enumerable.Range(0, runs.Count).Select(i => runs[i]));
    }
}
