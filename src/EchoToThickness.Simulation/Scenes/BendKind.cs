using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The standard bend radii of elbows.</summary>
public enum BendKind
{
    /// <summary>bend radius 1.5 times the nominal size</summary>
    [Choice("long radius", "bend radius 1.5 times the nominal size")]
    LongRadius,

    /// <summary>bend radius 1 times the nominal size</summary>
    [Choice("short radius", "bend radius 1 times the nominal size")]
    ShortRadius,
}
