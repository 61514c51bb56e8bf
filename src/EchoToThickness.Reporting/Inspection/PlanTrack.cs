using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Track of the encoder in the words of the plan.</summary>
public enum PlanTrack
{
    /// <summary>the line itself</summary>
    [Choice("line", "the line itself, at its own radius")]
    Line = EncoderTrack.Line,

    /// <summary>the centre line of the bend</summary>
    [Choice("centre line", "the centre line of the bend")]
    CentreLine = EncoderTrack.CentreLine,
}
