namespace EchoToThickness.Statistics.Change;

/// <summary>How far two surveys may be displaced.</summary>
public sealed record RegistrationSettings
{
    /// <summary>Largest shift along, metres.</summary>
    public double LargestAlongMetres { get; init; } = 0.03;

    /// <summary>Largest shift (rotation) around, metres; on a closed girth it may be half of it.</summary>
    public double LargestAroundMetres { get; init; } = 0.03;

    /// <summary>Largest stretch along, as a fraction; 0 leaves stretch out.</summary>
    public double LargestStretch { get; init; } = 0.02;

    /// <summary>Fewest cells measured in both surveys.</summary>
    public int LeastCells { get; init; } = 100;

    /// <summary>A smaller correlation is no registration.</summary>
    public double LeastCorrelation { get; init; } = 0.3;
}
