namespace EchoToThickness.Studies.Tests;

/// <summary>Normal deviates by the sum of twelve uniform numbers of a linear congruential generator: independent of the code under test.</summary>
internal sealed class NormalSequence(ulong seed)
{
    private ulong _state = seed * 6364136223846793005 + 1442695040888963407;

    public double Next()
    {
        double sum = -6;
        for (int i = 0; i < 12; i++)
        {
            _state = _state * 6364136223846793005 + 1442695040888963407;
            sum += (_state >> 11) * (1.0 / (1UL << 53));
        }
        return sum;
    }
}
