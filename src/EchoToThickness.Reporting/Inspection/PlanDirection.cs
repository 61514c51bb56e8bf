using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Direction of lines in the words of the plan.</summary>
public enum PlanDirection
{
    /// <summary>along the component</summary>
    [Choice("along", "along the component")]
    Along = LineDirection.Along,

    /// <summary>around it</summary>
    [Choice("around", "around it")]
    Around = LineDirection.Around,
}
