namespace EchoToThickness.Studies.Tune;

/// <summary>Sums of a <see cref="WindowScore"/>, metres.</summary>
internal enum ScoreSum
{
    /// <summary>Errors of sound cells.</summary>
    ErrorSound,

    /// <summary>Squared errors of sound cells.</summary>
    SquareSound,

    /// <summary>Squared errors of all judged cells.</summary>
    SquareAll,

    /// <summary>Squared ratios of error to stated uncertainty.</summary>
    Standardised,
    End,
}
