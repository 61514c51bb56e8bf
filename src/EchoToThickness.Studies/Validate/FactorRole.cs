using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>What the levels of a factor stand for.</summary>
public enum FactorRole
{
    /// <summary>A sample of many.</summary>
    [Choice("random", "A sample of many that could have been: operators, days, couplings. Gives a variance component.")]
    Random,

    /// <summary>Chosen settings.</summary>
    [Choice("fixed", "Settings that were chosen: gain, speed, direction. Gives an effect for each level.")]
    Fixed,
}
