using EchoToThickness.Procedures;

namespace EchoToThickness.Components;

/// <summary>What a reviewer does with cells.</summary>
public enum OverruleKind
{
    /// <summary>the cells take no part</summary>
    [Choice("exclude", "the cells take no part")]
    Exclude,

    /// <summary>the cells take another pair of echoes that the machine kept in the grid</summary>
    [Choice("re-gate", "the cells take another pair of echoes that the machine kept in the grid")]
    ReGate,

    /// <summary>the cells take the wall that the reviewer gives</summary>
    [Choice("replace", "the cells take the wall that the reviewer gives")]
    Replace,
}
