namespace EchoToThickness.Stacks;

/// <summary>Maps a sample index to time: <c>t(i) = start + i / rate</c>, seconds from the transmitted pulse.</summary>
public sealed record TimeBase
{
    /// <summary>Samples a second, hertz; positive and finite.</summary>
    public required double SampleRateHz { get; init; }

    /// <summary>Time of sample 0, seconds from the pulse.</summary>
    public double StartSeconds { get; init; }

    /// <summary>Shape [beam]: time of sample 0 by beam, seconds from the pulse; null when all beams share <see cref="StartSeconds"/>.</summary>
    public IReadOnlyList<double>? BeamStartSeconds { get; init; }

    /// <summary>Time of sample 0 of a beam, seconds from the pulse.</summary>
    /// <param name="beam">Beam index.</param>
    public double StartOf(int beam) => BeamStartSeconds is { } starts ? starts[beam] : StartSeconds;

    /// <summary>One sample's duration, seconds.</summary>
    public double IntervalSeconds => 1.0 / SampleRateHz;
}
