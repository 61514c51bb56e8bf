using EchoToThickness.Components;
using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Rule of stitching in the words of the plan.</summary>
public enum PlanStitchRule
{
    /// <summary>the smallest wall</summary>
    [Choice("smallest", "the smallest wall")]
    Smallest = StitchRule.Smallest,

    /// <summary>the least doubtful wall</summary>
    [Choice("best quality", "the least doubtful wall")]
    BestQuality = StitchRule.BestQuality,

    /// <summary>the mean weighted by uncertainty</summary>
    [Choice("weighted", "the mean weighted by uncertainty")]
    Weighted = StitchRule.Weighted,

    /// <summary>that of the last line</summary>
    [Choice("last", "that of the last line")]
    Last = StitchRule.Last,
}
