namespace EchoToThickness.Stacks;

/// <summary>The line on which the encoder's length is counted on a bend.</summary>
public enum EncoderTrack
{
    /// <summary>The scan line itself: true arc length at its own radius.</summary>
    Line,

    /// <summary>The centre line of the bend, whatever the line's radius.</summary>
    CentreLine,
}
