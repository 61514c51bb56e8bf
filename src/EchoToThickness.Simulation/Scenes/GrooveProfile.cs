using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The cross-section of a groove.</summary>
public enum GrooveProfile
{
    /// <summary>an arc of a circle</summary>
    [Choice("round", "an arc of a circle")]
    Round,

    /// <summary>two flat sides</summary>
    [Choice("vee", "two flat sides")]
    Vee,
}
