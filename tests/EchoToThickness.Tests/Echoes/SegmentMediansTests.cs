using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Echoes;

public class SegmentMediansTests
{
    [Fact]
    public void Run_EveryLength_EqualsSorting()
    {
        var random = new Random(11);
        for (int samples = 16; samples <= 400; samples += 7)
        {
            var record = new float[samples];
            for (int i = 0; i < samples; i++)
                record[i] = random.Next(4) == 0 ? 0.25f : (float)random.NextDouble();
            var medians = new float[SegmentMedians.Segments];
            new SegmentMedians(samples).Run(record, medians);
            int length = samples / SegmentMedians.Segments;
            for (int segment = 0; segment < SegmentMedians.Segments; segment++)
            {
                float[] sorted = record.AsSpan(segment * length, length).ToArray();
                Array.Sort(sorted);
                float expected = 0.5f * (sorted[(length - 1) / 2] + sorted[length / 2]);
                Assert.Equal(expected, medians[segment]);
            }
        }
    }
}
