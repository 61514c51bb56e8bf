using EchoToThickness.Signals;

namespace EchoToThickness.Studies.Sources;

/// <summary>The random numbers of one record: a counter under a key, so that no other record has a part in them.</summary>
/// <remarks>Bits: SplitMix64. Normal deviates: the polar form of Box and Muller's pairs would reject; the direct form (1958) is used.</remarks>
internal struct RecordNoise
{
    private readonly ulong _key;
    private ulong _count;
    private double _spare;
    private bool _hasSpare;

    public RecordNoise(ulong seed, ulong record)
    {
        _key = SplitMix64.Mix(seed ^ SplitMix64.Mix(record + SplitMix64.Increment));
        _count = 0;
        _spare = 0;
        _hasSpare = false;
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double Uniform() => (SplitMix64.Mix(_key + ++_count * SplitMix64.Increment) >> 11) * (1.0 / (1UL << 53));

    /// <summary>Normal with mean 0 and standard deviation 1.</summary>
    public double Normal()
    {
        if (_hasSpare)
        {
            _hasSpare = false;
            return _spare;
        }
        // 1 - u lies in (0, 1], so the logarithm is finite.
        double radius = Math.Sqrt(-2 * Math.Log(1 - Uniform()));
        (double sine, double cosine) = Math.SinCos(2 * Math.PI * Uniform());
        _spare = radius * sine;
        _hasSpare = true;
        return radius * cosine;
    }
}
