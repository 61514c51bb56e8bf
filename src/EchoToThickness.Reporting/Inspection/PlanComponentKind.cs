using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Kind of component in the words of the plan.</summary>
public enum PlanComponentKind
{
    /// <summary>a plate</summary>
    [Choice("plate", "a plate")]
    Plate = ComponentKind.Plate,

    /// <summary>a straight pipe</summary>
    [Choice("pipe", "a straight pipe")]
    Pipe = ComponentKind.Pipe,

    /// <summary>an elbow</summary>
    [Choice("elbow", "an elbow")]
    Elbow = ComponentKind.Elbow,
}
