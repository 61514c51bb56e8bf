using System.Runtime.InteropServices;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using Xunit;

namespace EchoToThickness.Tests.Signals;

/// <summary>Every stored type to fractions of full scale, every path, every length; definition: (counts - zero) / full scale.</summary>
public class SampleConversionTests
{
    public static TheoryData<SampleType> Types => [.. Enum.GetValues<SampleType>()];

    [Theory]
    [MemberData(nameof(Types))]
    public void ToFractions_EveryLength_MatchesDefinitionAndScalarBits(SampleType type)
    {
        AmplitudeScale scale = AmplitudeScale.For(type);
        if (type is SampleType.Float32 or SampleType.Float64)
            scale = new AmplitudeScale(2.5, 0.25);
        for (int length = 0; length <= 256; length++)
        {
            (byte[] stored, double[] counts) = Make(type, length);
            var scalar = new float[length];
            StoredSamples.ToFractions(stored, type, scale, scalar, KernelPath.Scalar);
            for (int i = 0; i < length; i++)
            {
                double expected = (counts[i] - scale.ZeroCounts) / scale.FullScaleCounts;
                // Two roundings to 24 bits on values up to 1 (floating types: up to 1000).
                Assert.Equal(expected, scalar[i], Math.Max(Math.Abs(expected), 0.01) * 2e-7);
            }
            foreach (KernelPath path in DspVectors.Paths)
            {
                var result = new float[length];
                StoredSamples.ToFractions(stored, type, scale, result, path);
                Assert.Equal(scalar, result);
            }
        }
    }

    [Fact]
    public void ToSingle_ShortDestination_Throws() =>
        Assert.Contains(
            "needed",
            Assert
                .Throws<ArgumentException>(() =>
                    SampleConversion.ToSingle(new short[4].AsSpan(), 0, 1, new float[3], KernelPath.Scalar)
                )
                .Message
        );

    private static (byte[] Stored, double[] Counts) Make(SampleType type, int length)
    {
        var random = new Random(length);
        switch (type)
        {
            case SampleType.Int8:
                sbyte[] a = Fill(length, _ => (sbyte)random.Next(-128, 128));
                return (MemoryMarshal.AsBytes(a.AsSpan()).ToArray(), a.Select(v => (double)v).ToArray());
            case SampleType.UInt8:
                byte[] b = Fill(length, _ => (byte)random.Next(256));
                return (b, b.Select(v => (double)v).ToArray());
            case SampleType.Int16:
                short[] c = Fill(length, i => i == 3 ? short.MinValue : (short)random.Next(-32768, 32768));
                return (MemoryMarshal.AsBytes(c.AsSpan()).ToArray(), c.Select(v => (double)v).ToArray());
            case SampleType.UInt16:
                ushort[] d = Fill(length, i => i == 3 ? ushort.MaxValue : (ushort)random.Next(65536));
                return (MemoryMarshal.AsBytes(d.AsSpan()).ToArray(), d.Select(v => (double)v).ToArray());
            case SampleType.Float32:
                float[] e = Fill(length, _ => (float)(random.NextDouble() * 2000 - 1000));
                return (MemoryMarshal.AsBytes(e.AsSpan()).ToArray(), e.Select(v => (double)v).ToArray());
            default:
                double[] f = Fill(length, _ => random.NextDouble() * 2000 - 1000);
                return (MemoryMarshal.AsBytes(f.AsSpan()).ToArray(), f);
        }
    }

    private static T[] Fill<T>(int length, Func<int, T> value) => Enumerable.Range(0, length).Select(value).ToArray();
}
