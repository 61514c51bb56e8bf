namespace EchoToThickness.Procedures;

/// <summary>What turns the echoes of one A-scan into the round trip of one wall.</summary>
public enum EstimationMethod
{
    /// <summary>The delays of all paired echoes, correlated with the interface and laid on a line.</summary>
    [Choice("train", "The delays of all paired echoes, correlated with the interface and laid on a line.")]
    Train,

    /// <summary>The rising flank of both envelopes at half of their own peaks.</summary>
    [Choice("flank", "The rising flank of both envelopes at a fraction of their own peaks (flank_fraction).")]
    Flank,

    /// <summary>The highest half wave of both echoes.</summary>
    [Choice("peak", "The highest half wave of both echoes, by the parabola through three samples.")]
    Peak,

    /// <summary>The zero crossing behind the highest half wave.</summary>
    [Choice("zero-crossing", "The zero crossing behind the highest half wave of both echoes.")]
    ZeroCrossing,

    /// <summary>The peak of both envelopes.</summary>
    [Choice(
        "envelope-peak",
        "The peak of both envelopes; knows no carrier, so it is never a cycle off, and never precise."
    )]
    EnvelopePeak,

    /// <summary>Cross-correlation of two echoes of the record.</summary>
    [Choice(
        "cross-correlation",
        "The lag at which two echoes of the record fit best (interpolation says how lags are refined)."
    )]
    CrossCorrelation,

    /// <summary>Matched filter with a reference echo.</summary>
    [Choice("matched-filter", "The first strong maximum of the record filtered with the reference echo.")]
    MatchedFilter,

    /// <summary>Autocorrelation of the record behind the interface.</summary>
    [Choice(
        "autocorrelation",
        "The lags at which the record behind the interface repeats; needs two back-wall echoes."
    )]
    Autocorrelation,

    /// <summary>Cepstrum of the record behind the interface.</summary>
    [Choice("cepstrum", "The period of the logarithmic spectrum behind the interface; needs two back-wall echoes.")]
    Cepstrum,

    /// <summary>Resonances of the wall.</summary>
    [Choice(
        "resonance",
        "The resonances of the wall in the spectrum behind the interface; for thin walls with many echoes."
    )]
    Resonance,

    /// <summary>Wiener deconvolution with autoregressive continuation of the band.</summary>
    [Choice(
        "deconvolution",
        "Wiener deconvolution, the band continued by an autoregressive model (Burg); for echoes that overlap."
    )]
    Deconvolution,

    /// <summary>Orthogonal matching pursuit.</summary>
    [Choice(
        "sparse",
        "The few echoes that explain the record (orthogonal matching pursuit, refined off the grid); for echoes that overlap."
    )]
    Sparse,

    /// <summary>Gabor echoes fitted by Levenberg-Marquardt.</summary>
    [Choice(
        "parametric",
        "Gabor echoes of one shape fitted by Levenberg-Marquardt, their number by an information criterion."
    )]
    Parametric,

    /// <summary>Maximum likelihood of interface and all back walls with one wall.</summary>
    [Choice(
        "joint-fit",
        "Maximum likelihood of the whole train with one wall: spacing, strength and decay of all back-wall echoes."
    )]
    JointFit,
}
