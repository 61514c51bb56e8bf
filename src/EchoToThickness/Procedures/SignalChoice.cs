namespace EchoToThickness.Procedures;

/// <summary>The signal that interface and gates look at.</summary>
public enum SignalChoice
{
    /// <summary>The band-passed signal with its sign.</summary>
    [Choice("rf", "The band-passed signal with its sign.")]
    RadioFrequency,

    /// <summary>Its absolute value.</summary>
    [Choice("rectified", "Its absolute value.")]
    Rectified,

    /// <summary>The magnitude of its analytic signal.</summary>
    [Choice("envelope", "The magnitude of its analytic signal.")]
    Envelope,
}
