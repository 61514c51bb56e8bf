using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>Distribution of a contribution.</summary>
public enum InputShape
{
    /// <summary>Normal.</summary>
    [Choice("normal", "Normal; Student's t with few degrees of freedom.")]
    Normal,

    /// <summary>Even between two limits.</summary>
    [Choice("rectangular", "Even between two limits.")]
    Rectangular,

    /// <summary>Triangular.</summary>
    [Choice("triangular", "Triangular between two limits.")]
    Triangular,
}
