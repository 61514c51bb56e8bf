namespace EchoToThickness.Procedures;

/// <summary>How the maximum of a sampled correlation is placed between lags.</summary>
public enum LagInterpolation
{
    /// <summary>Cosine through three lags.</summary>
    [Choice("cosine", "Cosine through three lags; under two thousandths of a sample at 14 samples a period.")]
    Cosine,

    /// <summary>Parabola through three lags.</summary>
    [Choice(
        "parabola",
        "Parabola through three lags; pulled to the samples, by up to 0.0032 at 14 samples a period, 0.045 at 4."
    )]
    Parabola,

    /// <summary>Phase of the complex correlation.</summary>
    [Choice(
        "phase",
        "Phase of the complex correlation; errs by the part that the true frequency differs from the stated one."
    )]
    Phase,
}
