namespace EchoToThickness.Procedures;

/// <summary>Which sign of the signal counts (rf only).</summary>
public enum PolarityChoice
{
    /// <summary>Both half waves.</summary>
    [Choice("either", "Both half waves.")]
    Either,

    /// <summary>Only positive half waves.</summary>
    [Choice("positive", "Only positive half waves.")]
    Positive,

    /// <summary>Only negative half waves.</summary>
    [Choice("negative", "Only negative half waves.")]
    Negative,

    /// <summary>The sign opposite to the followed echo: back-wall echoes are inverted against the interface echo.</summary>
    [Choice(
        "opposite",
        "The sign opposite to the followed echo: back-wall echoes are inverted against the interface echo."
    )]
    Opposite,

    /// <summary>The sign of the followed echo.</summary>
    [Choice("same", "The sign of the followed echo.")]
    Same,
}
