using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>How a range is divided.</summary>
public enum VaryScale
{
    /// <summary>Equal differences.</summary>
    [Choice("linear", "Equal differences.")]
    Linear,

    /// <summary>Equal ratios.</summary>
    [Choice("log", "Equal ratios; both ends above zero.")]
    Logarithmic,
}
