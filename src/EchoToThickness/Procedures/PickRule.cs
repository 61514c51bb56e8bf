namespace EchoToThickness.Procedures;

/// <summary>The instant taken from an echo.</summary>
public enum PickRule
{
    /// <summary>Where the signal first crosses the level (linear between samples), or flank_fraction of the echo's peak.</summary>
    [Choice(
        "flank",
        "Where the signal first crosses the level (linear between samples), or flank_fraction of the echo's peak."
    )]
    Flank,

    /// <summary>The highest sample, refined by a parabola through three samples.</summary>
    [Choice("peak", "The highest sample, refined by a parabola through three samples.")]
    Peak,

    /// <summary>The zero crossing after the peak (rf only), linear between samples.</summary>
    [Choice("zero-crossing", "The zero crossing after the peak (rf only), linear between samples.")]
    ZeroCrossing,

    /// <summary>The highest point of the envelope near the echo, refined by a parabola, whatever signal finds the echo.</summary>
    [Choice(
        "envelope-peak",
        "The highest point of the envelope near the echo, refined by a parabola, whatever signal finds the echo."
    )]
    EnvelopePeak,

    /// <summary>The lag that best fits the reference echo (the interface, or the pulse), refined by a parabola (rf only).</summary>
    [Choice(
        "correlation",
        "The lag that best fits the reference echo (the interface, or the pulse), refined by a parabola (rf only)."
    )]
    Correlation,
}
