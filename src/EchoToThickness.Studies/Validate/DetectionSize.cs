using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>What the size of a feature is.</summary>
public enum DetectionSize
{
    /// <summary>Diameter of the mouth.</summary>
    [Choice("diameter", "Diameter of the mouth; of one that is not round, the root of length times width.")]
    Diameter,

    /// <summary>Depth.</summary>
    [Choice("depth", "Depth: the wall around the feature less the certified wall.")]
    Depth,
}
