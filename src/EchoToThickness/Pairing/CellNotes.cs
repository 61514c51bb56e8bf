namespace EchoToThickness.Pairing;

/// <summary>What a reviewer should know of a cell, whatever its status. Stored as 16 bits; bit meanings never change.</summary>
[Flags]
public enum CellNotes : ushort
{
    /// <summary>Nothing to say.</summary>
    None = 0,

    /// <summary>The interface echo is cut off at the rails.</summary>
    InterfaceSaturated = 1 << 0,

    /// <summary>The interface was taken from neighbours, not from this A-scan.</summary>
    InterfaceTracked = 1 << 1,

    /// <summary>Interface to wall and wall to wall differ consistently: a coating or a wrong zero.</summary>
    CoatingSuspected = 1 << 2,

    /// <summary>An echo of the couplant layer (twice the interface time, or more) lies on or near a paired echo.</summary>
    CouplantMultipleNear = 1 << 3,

    /// <summary>A first choice at twice the wall was corrected (or is the runner-up).</summary>
    DoubledWallRejected = 1 << 4,

    /// <summary>A first choice at half the wall was corrected (or is the runner-up).</summary>
    HalvedWallRejected = 1 << 5,

    /// <summary>An echo fits a mode-converted path (about 1.415 times the wall in steel).</summary>
    ModeConvertedEcho = 1 << 6,

    /// <summary>An early trigger on the interface echo's own ring-down was rejected.</summary>
    RingDownRejected = 1 << 7,

    /// <summary>The paired echoes do not have the polarity that the physics asks for.</summary>
    PolarityUnexpected = 1 << 8,

    /// <summary>The pair was made without the interface (wall to wall).</summary>
    WithoutInterface = 1 << 9,

    /// <summary>A back-wall echo is cut off at the rails.</summary>
    BackWallSaturated = 1 << 10,

    /// <summary>The gate runs past the end of the record.</summary>
    GateCutByRecord = 1 << 11,

    /// <summary>Only one back-wall echo supports the wall; nothing confirms it.</summary>
    SingleEcho = 1 << 12,

    /// <summary>A weak echo was accepted because it fits the walls of true neighbours.</summary>
    SuppliedByNeighbours = 1 << 13,

    /// <summary>The choice over the map changed what the A-scan by itself said.</summary>
    ChosenOverMap = 1 << 14,
}
