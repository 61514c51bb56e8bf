namespace EchoToThickness.Simulation.Random;

/// <summary>
/// What random numbers are drawn for. Each purpose has its own sequences, so that adding one never changes another. The numbers are part
/// of what a scene means: never renumber.
/// </summary>
public enum RandomStream
{
    /// <summary>Spectral components of a rough inner surface.</summary>
    WallRoughness = 1,

    /// <summary>Number and places of pits of a cluster.</summary>
    PitPlaces = 2,

    /// <summary>Depths of pits of a cluster.</summary>
    PitDepths = 3,

    /// <summary>Inclusions.</summary>
    Inclusions = 4,

    /// <summary>Spectral components of the outer surface.</summary>
    OuterRoughness = 5,

    /// <summary>Spectral components of the thickness of paint.</summary>
    Paint = 6,

    /// <summary>Spectral components of the thickness of scale.</summary>
    Scale = 7,

    /// <summary>Shifts of the pieces of a random surface.</summary>
    TileShift = 8,

    /// <summary>Couplant: waviness and drift.</summary>
    Couplant = 10,

    /// <summary>Couplant: jitter of a cell.</summary>
    CouplantJitter = 11,

    /// <summary>Couplant: bubbles.</summary>
    Bubbles = 12,

    /// <summary>Elements: gain.</summary>
    ElementGain = 20,

    /// <summary>Elements: delay.</summary>
    ElementDelay = 21,

    /// <summary>Instrument: electronic noise.</summary>
    Noise = 30,

    /// <summary>Instrument: grain noise.</summary>
    Grain = 31,

    /// <summary>Instrument: trigger jitter.</summary>
    TriggerJitter = 32,

    /// <summary>Instrument: spikes.</summary>
    Spikes = 33,

    /// <summary>Faults of the scan.</summary>
    Faults = 40,
}
