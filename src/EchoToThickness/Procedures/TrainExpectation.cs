namespace EchoToThickness.Procedures;

/// <summary>What a reflector in front of the far wall is taken for when the echoes alone cannot tell.</summary>
public enum TrainExpectation
{
    /// <summary>A laminar reflector: the full wall is the thickness where its echo is found, the reflector's depth stands beside it.</summary>
    [Choice(
        "laminar",
        "A laminar reflector: the full wall is the thickness where its echo is found, the reflector's depth stands beside it."
    )]
    Laminar,

    /// <summary>The bottom of a pit or hole: the first reflector is the thickness, which is the safe side.</summary>
    [Choice("pits", "The bottom of a pit or hole: the first reflector is the thickness, which is the safe side.")]
    Pits,
}
