using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>How the active aperture is focused.</summary>
public enum FocusRule
{
    /// <summary>all elements fire together</summary>
    [Choice("none", "all elements fire together")]
    None,

    /// <summary>delays that focus at focus_depth</summary>
    [Choice("depth", "delays that focus at focus_depth")]
    Depth,
}
