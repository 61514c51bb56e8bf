namespace EchoToThickness.Pairing;

/// <summary>What became of one cell. Stored as a byte; the numbers are part of the grid format and never change meaning.</summary>
public enum CellStatus : byte
{
    /// <summary>The wall was measured.</summary>
    Measured = 0,

    /// <summary>No interface echo was found, and no wall could be measured without it.</summary>
    NoInterfaceEcho = 1,

    /// <summary>An interface was found, but no back-wall echo in the gate or range.</summary>
    NoBackWallEcho = 2,

    /// <summary>Echoes were found, but more than one wall explains them about equally well.</summary>
    AmbiguousPairing = 3,

    /// <summary>A reflector parallel to the surface lies before the far wall; thickness is the full wall where its echo was found, else NaN.</summary>
    LaminarReflector = 4,

    /// <summary>An echo that the wall depends on is cut off at the rails of the digitiser.</summary>
    Saturated = 5,

    /// <summary>Echoes may be there, but too close to the noise to be believed.</summary>
    LowSignalToNoise = 6,

    /// <summary>No A-scan was stored for the cell.</summary>
    NotScanned = 7,

    /// <summary>A wall was found, but outside the range that the procedure believes.</summary>
    OutsideRange = 8,

    /// <summary>The samples are not numbers (NaN or infinity in a floating-point stack).</summary>
    InvalidSamples = 9,
}
