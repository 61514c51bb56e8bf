namespace EchoToThickness.Validation;

/// <summary>Why a statement was not made.</summary>
public enum RefusalReason
{
    /// <summary>Fewer independent clusters (features, placements, scans) than the method needs.</summary>
    TooFewClusters,

    /// <summary>Fewer observations than the method needs.</summary>
    TooFewObservations,

    /// <summary>Fewer features than practice asks for before a detection limit with confidence is stated.</summary>
    TooFewFeatures,

    /// <summary>The values do not vary, so nothing can be said of their spread.</summary>
    NoSpread,

    /// <summary>Hits and misses do not overlap in size: the likelihood has no maximum.</summary>
    Separation,

    /// <summary>The iteration did not settle.</summary>
    NoConvergence,

    /// <summary>The data do not tell the effects asked for apart.</summary>
    NotIdentified,

    /// <summary>Detection does not grow with size.</summary>
    SlopeNotPositive,

    /// <summary>Several looks at one feature are not independent, and the method asked for needs independent ones.</summary>
    RepeatedLooks,

    /// <summary>The confidence limit does not exist: the band never reaches the probability.</summary>
    Unbounded,
}
