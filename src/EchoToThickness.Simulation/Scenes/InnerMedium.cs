using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>What lies behind the wall.</summary>
public enum InnerMedium
{
    /// <summary>gas: the echo is reflected whole, with its sign turned</summary>
    [Choice("gas", "gas: the echo is reflected whole, with its sign turned")]
    Gas,

    /// <summary>liquid: a little is lost</summary>
    [Choice("liquid", "liquid: a little is lost")]
    Liquid,

    /// <summary>a bonded layer of higher impedance: the sign of the echo is not turned</summary>
    [Choice("bonded", "a bonded layer of higher impedance: the sign of the echo is not turned")]
    Bonded,
}
