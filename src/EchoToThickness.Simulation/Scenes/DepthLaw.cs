using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The law of pit depths.</summary>
public enum DepthLaw
{
    /// <summary>median and spread of the logarithm</summary>
    [Choice("log-normal", "median and spread of the logarithm")]
    LogNormal,

    /// <summary>location and scale</summary>
    [Choice("gumbel", "location and scale")]
    Gumbel,
}
