using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Which echoes the Cramér-Rao bound of a wall may use.</summary>
public enum BoundChoice
{
    /// <summary>The whole record.</summary>
    [Choice("record", "The whole record, every echo in it; pulse known, interface time and both amplitudes unknown.")]
    Record,

    /// <summary>Interface and back-wall echo 1.</summary>
    [Choice("interface-wall", "The interface echo and back-wall echo 1, as if far apart.")]
    InterfaceWall,

    /// <summary>Back-wall echoes 1 and 2.</summary>
    [Choice("wall-wall", "Back-wall echoes 1 and 2, as if far apart.")]
    WallWall,
}
