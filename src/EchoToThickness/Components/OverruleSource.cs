using EchoToThickness.Procedures;

namespace EchoToThickness.Components;

/// <summary>Which of the walls that the machine kept a re-gated cell takes.</summary>
public enum OverruleSource
{
    /// <summary>from the interface to the first back-wall echo</summary>
    [Choice("interface to wall", "from the interface to the first back-wall echo")]
    InterfaceToWall,

    /// <summary>from the first to the second back-wall echo</summary>
    [Choice("wall to wall", "from the first to the second back-wall echo")]
    WallToWall,

    /// <summary>the runner-up</summary>
    [Choice("runner-up", "the runner-up")]
    RunnerUp,
}
