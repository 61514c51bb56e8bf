namespace EchoToThickness.Measurement;

/// <summary>How the interface was found. Times in seconds from the pulse, amplitudes as fractions of full scale.</summary>
public sealed record InterfaceTrace
{
    /// <summary>Time of the interface; NaN when none.</summary>
    public double Seconds { get; init; } = double.NaN;

    /// <summary>Amplitude.</summary>
    public double AmplitudeFraction { get; init; } = double.NaN;

    /// <summary>Level that had to be reached.</summary>
    public double LevelFraction { get; init; } = double.NaN;

    /// <summary>Start of the search.</summary>
    public double SearchStartSeconds { get; init; } = double.NaN;

    /// <summary>End of the search.</summary>
    public double SearchEndSeconds { get; init; } = double.NaN;

    /// <summary>Taken from neighbours.</summary>
    public bool Tracked { get; init; }
}
