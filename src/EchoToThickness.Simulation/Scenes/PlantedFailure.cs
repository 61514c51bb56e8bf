namespace EchoToThickness.Simulation.Scenes;

/// <summary>What a simulated cell was made to suffer: the labels against which detectors and statuses are scored.</summary>
[Flags]
public enum PlantedFailure : uint
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The first back-wall echo is so weak that the second may be taken for it.</summary>
    DoubledWall = 1u << 0,

    /// <summary>A mode-converted echo stands between the first and second back wall.</summary>
    ModeConverted = 1u << 1,

    /// <summary>The interface echo rings on into the range of walls.</summary>
    RingDown = 1u << 2,

    /// <summary>A lamination or inclusion lies under the aperture.</summary>
    Lamination = 1u << 3,

    /// <summary>A multiple of the couplant falls on a back-wall echo.</summary>
    CouplantMultiple = 1u << 4,

    /// <summary>A pit, hole or groove under the aperture scatters the echo: less than half the amplitude of a flat wall.</summary>
    ScatteredPit = 1u << 5,

    /// <summary>A deposit lies on the inside.</summary>
    Deposit = 1u << 6,

    /// <summary>Back-wall echoes have the opposite sign.</summary>
    PolarityFlip = 1u << 7,

    /// <summary>The interface echo is beyond full scale.</summary>
    SaturatedInterface = 1u << 8,

    /// <summary>A coat's front echo stands before the echo of the metal.</summary>
    CoatingFront = 1u << 9,

    /// <summary>The stored position is wrong: the wheel slipped.</summary>
    EncoderSlip = 1u << 10,

    /// <summary>The position was visited on a backward run.</summary>
    Reversal = 1u << 11,

    /// <summary>The line or position repeats another one.</summary>
    Duplicate = 1u << 12,

    /// <summary>The line does not lie where its index says.</summary>
    MissedIndex = 1u << 13,

    /// <summary>The gain differs from that of the rest.</summary>
    GainStep = 1u << 14,

    /// <summary>The back wall lies outside the recorded time.</summary>
    ClippedTimeBase = 1u << 15,

    /// <summary>No couplant.</summary>
    DryCoupling = 1u << 16,

    /// <summary>An air bubble covers part of the aperture.</summary>
    Bubble = 1u << 17,

    /// <summary>The array stands off: the couplant is thicker than planned.</summary>
    LiftOff = 1u << 18,

    /// <summary>An interference spike.</summary>
    Spike = 1u << 19,

    /// <summary>Elements of the aperture are dead.</summary>
    DeadElement = 1u << 20,

    /// <summary>The cell was not recorded.</summary>
    Dropped = 1u << 21,

    /// <summary>A reflector lies near half the wall: a rule that takes the first of two near echoes reads a half.</summary>
    HalvedWall = 1u << 22,

    /// <summary>The interface echo lies in the transmitted pulse or before the receiver opens.</summary>
    DeadTime = 1u << 23,

    /// <summary>A second couplant echo stands in the record, near the level of the interface echo: it may be taken for the interface.</summary>
    SecondInterface = 1u << 24,

    /// <summary>The array is askew to the surface so far that its echo is weakened or skewed.</summary>
    Tilt = 1u << 25,

    /// <summary>The first back-wall echo is at the level of the noise.</summary>
    WeakSignal = 1u << 26,

    /// <summary>The wall is so thin that neighbouring back-wall echoes overlap.</summary>
    ThinWall = 1u << 27,

    /// <summary>The aperture sees an edge: walls under it differ by more than a pulse length of path.</summary>
    Edge = 1u << 28,
}
