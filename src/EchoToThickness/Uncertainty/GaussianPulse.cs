namespace EchoToThickness.Uncertainty;

/// <summary>The model pulse <c>s(t) = exp(-t²/(2 σ_t²)) cos(2π f_c t)</c>, peak 1, of a centre frequency and a relative -6 dB bandwidth.</summary>
/// <remarks>
/// The amplitude spectrum falls to 1/2 at <c>f_c (1 ± B/2)</c>: <c>σ_f = B f_c / (2 sqrt(2 ln 2))</c>, <c>σ_t = 1/(2π σ_f)</c>.
/// Energy and bandwidths in closed form.
/// </remarks>
public sealed record GaussianPulse
{
    /// <summary>Makes the pulse.</summary>
    /// <param name="frequencyHz">Centre frequency, hertz.</param>
    /// <param name="bandwidthFraction">Relative bandwidth at -6 dB, above 0 and below 2.</param>
    public GaussianPulse(double frequencyHz, double bandwidthFraction)
    {
        if (!(frequencyHz > 0) || !double.IsFinite(frequencyHz))
            throw new ArgumentOutOfRangeException(nameof(frequencyHz), frequencyHz, "It must be positive.");
        if (bandwidthFraction is not (> 0 and < 2))
            throw new ArgumentOutOfRangeException(
                nameof(bandwidthFraction),
                bandwidthFraction,
                "It must be above 0 and below 2."
            );
        FrequencyHz = frequencyHz;
        BandwidthFraction = bandwidthFraction;
        SpectrumDeviationHz = bandwidthFraction * frequencyHz / (2 * Math.Sqrt(2 * Math.Log(2)));
        DeviationSeconds = 1 / (2 * Math.PI * SpectrumDeviationHz);
    }

    /// <summary>Centre frequency f_c, hertz.</summary>
    public double FrequencyHz { get; }

    /// <summary>Relative bandwidth at -6 dB.</summary>
    public double BandwidthFraction { get; }

    /// <summary>Standard deviation σ_f of the amplitude spectrum, hertz.</summary>
    public double SpectrumDeviationHz { get; }

    /// <summary>Standard deviation σ_t of the envelope, seconds.</summary>
    public double DeviationSeconds { get; }

    private double CarrierSquared => Math.Pow(2 * Math.PI * FrequencyHz * DeviationSeconds, 2);

    /// <summary>Energy <c>∫ s² dt = σ_t sqrt(π)/2 (1 + exp(-(ω σ_t)²))</c>, seconds.</summary>
    public double EnergySeconds => DeviationSeconds * Math.Sqrt(Math.PI) / 2 * (1 + Math.Exp(-CarrierSquared));

    /// <summary>
    /// Root-mean-square bandwidth about zero frequency, <c>sqrt(∫ s'² dt / ∫ s² dt) / 2π</c>, hertz. The carrier counts.
    /// </summary>
    public double RmsBandwidthHz
    {
        get
        {
            // ∫ s'² = sqrt(π)/(4 σ_t) [1 + 2 w² + exp(-w²)], w = ω σ_t; ∫ s² = sqrt(π) σ_t / 2 [1 + exp(-w²)].
            double w2 = CarrierSquared;
            double tail = Math.Exp(-w2);
            double ratio = (1 + 2 * w2 + tail) / (2 * (1 + tail)) / (DeviationSeconds * DeviationSeconds);
            return Math.Sqrt(ratio) / (2 * Math.PI);
        }
    }

    /// <summary>Root-mean-square bandwidth of the envelope alone, <c>σ_f / sqrt(2)</c>, hertz: all that an envelope pick can use.</summary>
    public double EnvelopeRmsBandwidthHz => SpectrumDeviationHz / Math.Sqrt(2);

    /// <summary>The pulse at a time.</summary>
    /// <param name="seconds">Time from its centre.</param>
    public double Value(double seconds) =>
        Math.Exp(-seconds * seconds / (2 * DeviationSeconds * DeviationSeconds))
        * Math.Cos(2 * Math.PI * FrequencyHz * seconds);

    /// <summary>Its derivative, per second.</summary>
    /// <param name="seconds">Time from its centre.</param>
    public double Derivative(double seconds)
    {
        double omega = 2 * Math.PI * FrequencyHz;
        double variance = DeviationSeconds * DeviationSeconds;
        return Math.Exp(-seconds * seconds / (2 * variance))
            * (-seconds / variance * Math.Cos(omega * seconds) - omega * Math.Sin(omega * seconds));
    }
}
