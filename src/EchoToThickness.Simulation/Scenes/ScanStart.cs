using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Where scan positions count from.</summary>
public enum ScanStart
{
    /// <summary>the start of the component</summary>
    [Choice("end", "the start of the component")]
    End,

    /// <summary>the middle of the bend, with positions of both signs</summary>
    [Choice("mid-bend", "the middle of the bend, with positions of both signs")]
    MidBend,
}
