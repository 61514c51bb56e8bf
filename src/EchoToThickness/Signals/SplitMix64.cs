namespace EchoToThickness.Signals;

/// <summary>Well-mixed bits from a counter: SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014).</summary>
public static class SplitMix64
{
    /// <summary>What the counter grows by: 2^64 over the golden ratio, odd.</summary>
    public const ulong Increment = 0x9E3779B97F4A7C15;

    /// <summary>The finaliser; a bijection of 64-bit words.</summary>
    /// <param name="value">Any word.</param>
    public static ulong Mix(ulong value)
    {
        value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9;
        value = (value ^ (value >> 27)) * 0x94D049BB133111EB;
        return value ^ (value >> 31);
    }
}
