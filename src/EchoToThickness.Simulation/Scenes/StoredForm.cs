using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>What the stored samples are.</summary>
public enum StoredForm
{
    /// <summary>radio-frequency signal</summary>
    [Choice("rf", "radio-frequency signal")]
    Rf,

    /// <summary>full-wave rectified</summary>
    [Choice("rectified", "full-wave rectified")]
    Rectified,
}
