namespace EchoToThickness.Procedures;

/// <summary>How neighbours take part in finding the interface.</summary>
public enum TrackRule
{
    /// <summary>Each A-scan by itself.</summary>
    [Choice("none", "Each A-scan by itself.")]
    None,

    /// <summary>A pick further than max_jump from the running median of its neighbours gives way to the candidate nearest that median.</summary>
    [Choice(
        "median",
        "A pick further than max_jump from the running median of its neighbours gives way to the candidate nearest that median."
    )]
    Median,

    /// <summary>The most likely path through the candidates of neighbouring A-scans with a slope limit (dynamic programming); a missing interface follows its neighbours and is marked.</summary>
    [Choice(
        "path",
        "The most likely path through the candidates of neighbouring A-scans with a slope limit (dynamic programming); a missing interface follows its neighbours and is marked."
    )]
    Path,
}
