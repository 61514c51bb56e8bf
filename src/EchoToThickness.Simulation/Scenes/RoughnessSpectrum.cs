using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The correlation of a rough surface.</summary>
public enum RoughnessSpectrum
{
    /// <summary>Gaussian correlation: smooth at small scale</summary>
    [Choice("gaussian", "Gaussian correlation: smooth at small scale")]
    Gaussian,

    /// <summary>exponential correlation: rough at every scale</summary>
    [Choice("exponential", "exponential correlation: rough at every scale")]
    Exponential,

    /// <summary>power law with a Hurst exponent and a cut-off</summary>
    [Choice("power", "power law with a Hurst exponent and a cut-off")]
    Power,
}
