using EchoToThickness.Signals;
using Xunit;

namespace EchoToThickness.Tests.Signals;

public sealed class SplitMix64Tests
{
    [Fact]
    public void Mix_FirstWordsOfSplitMix64SeedZero_MatchThePublishedSequence()
    {
        // The generator adds the golden-ratio word and mixes; first outputs for seed 0, from memory of the public reference code.
        const ulong golden = 0x9E3779B97F4A7C15;
        Assert.Equal(0xE220A8397B1DCDAFUL, SplitMix64.Mix(golden));
        Assert.Equal(0x6E789E6AA1B965F4UL, SplitMix64.Mix(unchecked(2 * golden)));
    }
}
