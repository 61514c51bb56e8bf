using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Along which line the encoder wheel runs.</summary>
public enum EncoderPath
{
    /// <summary>the scan line itself: true arc length at its own radius</summary>
    [Choice("line", "the scan line itself: true arc length at its own radius")]
    Line,

    /// <summary>the centre line of the bend, whatever the line's radius</summary>
    [Choice("centre", "the centre line of the bend, whatever the line's radius")]
    Centre,
}
