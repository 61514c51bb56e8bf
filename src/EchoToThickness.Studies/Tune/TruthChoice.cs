using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>What rule sets are held against.</summary>
public enum TruthChoice
{
    /// <summary>Known walls.</summary>
    [Choice("known", "The true wall of every cell, from the simulation, the stack or the drawing of the block.")]
    Known,

    /// <summary>Only themselves.</summary>
    [Choice(
        "none",
        "Nothing but self-consistency: agreement of the two spacings, repeatability, smoothness. Says nothing about accuracy."
    )]
    None,
}
