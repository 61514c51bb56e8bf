using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>How pits are strewn.</summary>
public enum PitPlacement
{
    /// <summary>independent of one another</summary>
    [Choice("poisson", "independent of one another")]
    Poisson,

    /// <summary>in groups around parents (Thomas process)</summary>
    [Choice("clustered", "in groups around parents (Thomas process)")]
    Clustered,
}
