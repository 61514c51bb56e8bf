using EchoToThickness.Signals;

namespace EchoToThickness.Simulation.Random;

/// <summary>The number of a sequence from its purpose and up to three places, well mixed, so that no two purposes share numbers.</summary>
public static class Streams
{
    /// <summary>Number of a sequence.</summary>
    /// <param name="purpose">What the numbers are for.</param>
    /// <param name="first">First place (often the line).</param>
    /// <param name="second">Second place (often the scan position).</param>
    /// <param name="third">Third place (often the beam).</param>
    public static ulong Of(RandomStream purpose, int first, int second = 0, int third = 0)
    {
        ulong high = SplitMix64.Mix(((ulong)purpose << 32) | (uint)first);
        return SplitMix64.Mix(high + (((ulong)(uint)second << 32) | (uint)third) + SplitMix64.Increment);
    }
}
