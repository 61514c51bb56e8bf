using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Where the pulse comes from.</summary>
public enum PulseSource
{
    /// <summary>a cosine under a Gaussian</summary>
    [Choice("gabor", "a cosine under a Gaussian")]
    Gabor,

    /// <summary>measured, from pulse_file</summary>
    [Choice("file", "measured, from pulse_file")]
    File,
}
