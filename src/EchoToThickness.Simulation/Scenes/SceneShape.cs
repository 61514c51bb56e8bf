using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The shape of the component.</summary>
public enum SceneShape
{
    /// <summary>flat plate or reference block</summary>
    [Choice("plate", "flat plate or reference block")]
    Plate,

    /// <summary>straight pipe</summary>
    [Choice("pipe", "straight pipe")]
    Pipe,

    /// <summary>pipe elbow, a section of a torus</summary>
    [Choice("elbow", "pipe elbow, a section of a torus")]
    Elbow,
}
