namespace EchoToThickness.Grids;

/// <summary>The layers a grid can hold; names, types and units in <see cref="GridLayers"/>.</summary>
public enum GridLayer
{
    /// <summary>Wall thickness, metres; NaN when not measured.</summary>
    Thickness,

    /// <summary>Combined standard uncertainty (k = 1), metres, given that the echo is the right one.</summary>
    Uncertainty,

    /// <summary>Part of it from pick noise, metres; independent from cell to cell.</summary>
    UncertaintyNoise,

    /// <summary>Part of it from velocity, zero and temperature, metres; common to the map.</summary>
    UncertaintyCalibration,

    /// <summary>Interface echo, seconds from the pulse.</summary>
    InterfaceTime,

    /// <summary>Earlier echo of the pair, seconds from the pulse.</summary>
    FirstEchoTime,

    /// <summary>Later echo of the pair, seconds from the pulse.</summary>
    SecondEchoTime,

    /// <summary>Interface echo amplitude, fraction of full scale.</summary>
    InterfaceAmplitude,

    /// <summary>Amplitude of back-wall echo 1, fraction of full scale.</summary>
    FirstEchoAmplitude,

    /// <summary>Amplitude of back-wall echo 2, fraction of full scale.</summary>
    SecondEchoAmplitude,

    /// <summary>Wall from interface to back wall 1, metres.</summary>
    ThicknessInterfaceWall,

    /// <summary>Wall from back wall 1 to back wall 2, metres.</summary>
    ThicknessWallWall,

    /// <summary>Depth of a laminar reflector, metres; NaN when none.</summary>
    ReflectorDepth,

    /// <summary>Peak-to-noise ratio of the weakest echo the wall rests on, decibels.</summary>
    SignalToNoise,

    /// <summary>How far the runner-up was: 0 = a tie, 1 = no rival (see docs).</summary>
    Margin,

    /// <summary>Wall of the runner-up hypothesis, metres; NaN when none.</summary>
    RunnerUpThickness,

    /// <summary>Probability that the echo is the wrong one, 0 to 1; NaN where nothing was measured.</summary>
    WrongEchoProbability,

    /// <summary>Orders of the paired echoes: first + 16 × second; order 0 is the interface, 15 none.</summary>
    PairedOrders,

    /// <summary>Back-wall echoes that support the wall.</summary>
    EchoCount,

    /// <summary>Bits of <see cref="Pairing.CellNotes"/>.</summary>
    Notes,

    /// <summary>Values of <see cref="Pairing.CellStatus"/>.</summary>
    Status,
}
