using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Velocity;

namespace EchoToThickness.Uncertainty;

/// <summary>
/// Standard uncertainty of a wall, made once per procedure and stack: noise (independent from cell to cell) and calibration
/// (common to the map) apart, combined by JCGM 100:2008. It holds given that the echo is the right one. Immutable, no allocation
/// per cell.
/// </summary>
/// <remarks>
/// Signal-to-noise ratio everywhere here: peak amplitude of the echo over the standard deviation of the noise, both in the
/// conditioned signal, as a ratio and not in decibels.
/// </remarks>
public sealed class UncertaintyModel
{
    private readonly double _metresPerSecond;
    private readonly double _boundAtRatioOne;
    private readonly double _noiseCentreHz;

    private UncertaintyModel(
        GaussianPulse pulse,
        double sampleRateHz,
        double noiseBandwidthHz,
        double noiseCentreHz,
        SignalChoice signal,
        ResolvedVelocity velocity,
        bool frequencyIsAssumed
    )
    {
        Pulse = pulse;
        SampleRateHz = sampleRateHz;
        NoiseBandwidthHz = noiseBandwidthHz;
        Signal = signal;
        Velocity = velocity;
        FrequencyIsAssumed = frequencyIsAssumed;
        EffectiveSamples = pulse.EnergySeconds * 2 * noiseBandwidthHz;
        _noiseCentreHz = noiseCentreHz;
        _boundAtRatioOne = CramerRao.DelaySeconds(pulse.RmsBandwidthHz, EffectiveSamples);
        _metresPerSecond = 0.5 * velocity.PathFactor * velocity.MetresPerSecond;
    }

    /// <summary>Model of the pulse.</summary>
    public GaussianPulse Pulse { get; }

    /// <summary>Sample rate.</summary>
    public double SampleRateHz { get; }

    /// <summary>One-sided bandwidth of the noise in the conditioned signal: the pass band, or half the sample rate.</summary>
    public double NoiseBandwidthHz { get; }

    /// <summary>Signal that is picked from.</summary>
    public SignalChoice Signal { get; }

    /// <summary>Metres for seconds.</summary>
    public ResolvedVelocity Velocity { get; }

    /// <summary>Whether neither stack nor procedure told a frequency, so that a tenth of the sample rate was assumed.</summary>
    public bool FrequencyIsAssumed { get; }

    /// <summary>
    /// Independent noise samples that the pulse's energy counts as, <c>∫ s² dt · 2 B_n</c>: SNR_E = (peak/σ)² times this.
    /// </summary>
    public double EffectiveSamples { get; }

    /// <summary>Makes the model of a procedure on a stack.</summary>
    /// <param name="procedure">A consistent procedure.</param>
    /// <param name="stack">The stack.</param>
    /// <param name="velocity">Metres for seconds, resolved for both.</param>
    /// <remarks>Frequency: the stack's, else the middle of the pass band, else a tenth of the sample rate; bandwidth 60 % unless the stack says.</remarks>
    public static UncertaintyModel For(Procedure procedure, StackInfo stack, ResolvedVelocity velocity)
    {
        ArgumentNullException.ThrowIfNull(procedure);
        ArgumentNullException.ThrowIfNull(stack);
        ArgumentNullException.ThrowIfNull(velocity);
        ConditioningSettings c = procedure.Conditioning;
        double rate = stack.TimeBase.SampleRateHz;
        double? band = c.BandHighHz - c.BandLowHz;
        double? frequency = stack.Acquisition.FrequencyHz ?? (c.BandLowHz + c.BandHighHz) / 2;
        return new UncertaintyModel(
            new GaussianPulse(
                frequency ?? rate / 10,
                stack.Acquisition.BandwidthFraction is > 0 and < 2 and { } b ? b : 0.6
            ),
            rate,
            Math.Min(band ?? rate / 2, rate / 2),
            (c.BandLowHz + c.BandHighHz) / 2 ?? rate / 4,
            c.Signal,
            velocity,
            frequency is null
        );
    }

    /// <summary>Cramér-Rao bound of one echo's delay, <c>1 / (2π f_rms snr sqrt(samples))</c>, seconds.</summary>
    /// <param name="peakToNoise">Peak over noise.</param>
    public double BoundSeconds(double peakToNoise) => _boundAtRatioOne / peakToNoise;

    /// <summary>Standard uncertainty of one pick from noise, first order in noise over peak, seconds.</summary>
    /// <param name="rule">Instant taken.</param>
    /// <param name="peakToNoise">Peak over noise.</param>
    /// <param name="flankFraction">Fraction of the peak at which a flank is timed; null: 0.5 is assumed.</param>
    /// <remarks>
    /// Crossings: noise of the linear interpolation over the model pulse's own slope there (after the peak for a zero, before it
    /// for a flank); interpolating between two samples averages their noise, <c>σ² (2/3 + ρ₁/3)</c> over all offsets. Peaks:
    /// noise of the parabola through three samples, <c>T sqrt((1 - ρ₂)/2 + (6 - 8ρ₁ + 2ρ₂)/12) / κ</c>, where κ is the second
    /// difference of the noiseless peak and the second term comes from the noise of the curvature, averaged over all offsets.
    /// <c>ρ₁, ρ₂</c>: correlation of the noise one and two samples apart (an ideal pass band; 0 for white noise). Correlation and
    /// train sit on the bound. First order in the noise: an envelope peak under about 26 dB spreads less than this says. Derived
    /// here, checked by simulation.
    /// </remarks>
    public double PickSeconds(PickRule rule, double peakToNoise, double? flankFraction = null) =>
        PickAtRatioOneSeconds(rule, flankFraction) / peakToNoise;

    /// <summary>What <see cref="PickSeconds"/> divides by the peak-to-noise ratio; taken once per plan, seconds.</summary>
    /// <param name="rule">Instant taken.</param>
    /// <param name="flankFraction">Fraction of the peak at which a flank is timed; null: 0.5 is assumed.</param>
    public double PickAtRatioOneSeconds(PickRule rule, double? flankFraction = null)
    {
        double p = Math.Clamp(flankFraction ?? 0.5, 0.01, 0.99);
        bool onEnvelope = Signal == SignalChoice.Envelope || rule == PickRule.EnvelopePeak;
        double near = NoiseCorrelation(1, onEnvelope);
        double interpolation = Math.Sqrt(2.0 / 3 + near / 3);
        switch (rule)
        {
            case PickRule.ZeroCrossing:
                return interpolation / Math.Abs(Pulse.Derivative(0.25 / Pulse.FrequencyHz));
            case PickRule.Flank when onEnvelope:
                return interpolation * Pulse.DeviationSeconds / (p * Math.Sqrt(2 * Math.Log(1 / p)));
            case PickRule.Flank:
                return interpolation / Math.Abs(Pulse.Derivative(FlankSeconds(p)));
            case PickRule.Peak:
            case PickRule.EnvelopePeak:
                double interval = 1 / SampleRateHz;
                double far = NoiseCorrelation(2, onEnvelope);
                double envelope = Square(interval / Pulse.DeviationSeconds);
                double curvature = onEnvelope
                    ? envelope
                    : 2 - 2 * Math.Cos(2 * Math.PI * Pulse.FrequencyHz * interval) + envelope;
                return interval * Math.Sqrt((1 - far) / 2 + (6 - 8 * near + 2 * far) / 12) / curvature;
            default:
                return _boundAtRatioOne;
        }
    }

    /// <summary>Noise part of a wall from two echoes at the Cramér-Rao bound, metres.</summary>
    /// <param name="firstPeakToNoise">Peak over noise of the earlier echo; infinity for one that adds no noise.</param>
    /// <param name="secondPeakToNoise">Peak over noise of the later echo.</param>
    /// <param name="roundTrips">Round trips between them: 1 from echo n to n+1, 2 from n to n+2.</param>
    /// <param name="efficiency">Variance bound over variance of the estimator, above 0 and at most 1.</param>
    public double NoiseMetres(
        double firstPeakToNoise,
        double secondPeakToNoise,
        int roundTrips = 1,
        double efficiency = 1
    ) =>
        SpacingMetres(BoundSeconds(firstPeakToNoise), BoundSeconds(secondPeakToNoise), roundTrips)
        / Math.Sqrt(efficiency);

    /// <summary>Noise part of a wall from two picks, metres.</summary>
    /// <param name="firstSeconds">Standard uncertainty of the earlier pick.</param>
    /// <param name="secondSeconds">Standard uncertainty of the later pick, independent of the first.</param>
    /// <param name="roundTrips">Round trips between them.</param>
    public double SpacingMetres(double firstSeconds, double secondSeconds, int roundTrips = 1) =>
        _metresPerSecond / roundTrips * Math.Sqrt(firstSeconds * firstSeconds + secondSeconds * secondSeconds);

    /// <summary>Part that sampling and interpolation leave on the spacing of two picks, metres.</summary>
    /// <param name="rule">Instant taken.</param>
    /// <remarks>A parabola's bias on a sampled half wave; linear interpolation of a crossing and a correlation peak are smaller and counted the same.</remarks>
    public double SamplingMetres(PickRule rule)
    {
        double seconds =
            rule == PickRule.EnvelopePeak || Signal == SignalChoice.Envelope
                ? SamplingError.EnvelopeParabolaSeconds(Pulse.DeviationSeconds, SampleRateHz)
            : SampleRateHz <= 2.1 * Pulse.FrequencyHz ? SamplingError.NearestSampleSeconds(SampleRateHz)
            : SamplingError.ParabolaSeconds(Pulse.FrequencyHz, SampleRateHz);
        return _metresPerSecond * Math.Sqrt(2) * seconds;
    }

    /// <summary>Calibration part, common to the map, metres.</summary>
    /// <param name="thicknessMetres">Wall.</param>
    /// <param name="usesInterface">Whether it was measured from the interface (zero and coating count) or from wall to wall.</param>
    public double CalibrationMetres(double thicknessMetres, bool usesInterface) =>
        CalibrationMetres(thicknessMetres, usesInterface ? 1.0 : 0.0);

    /// <summary>Calibration part of a weighted mean of interface-to-wall and wall-to-wall, metres.</summary>
    /// <param name="thicknessMetres">Wall.</param>
    /// <param name="interfaceShare">Weight of the interface-to-wall spacing, 0 to 1.</param>
    /// <remarks>
    /// <c>d = P V (t - t₀ - t_c) / 2</c>: <c>∂d/∂V = d/V</c>, <c>∂d/∂t₀ = ∂d/∂t_c = -P V/2</c>, and twice the covariance of V and t₀
    /// (JCGM 100:2008, equation 13).
    /// </remarks>
    public double CalibrationMetres(double thicknessMetres, double interfaceShare)
    {
        double perVelocity = thicknessMetres / Velocity.MetresPerSecond;
        double perTime = -_metresPerSecond * interfaceShare;
        double variance =
            Square(perVelocity * Velocity.UncertaintyMetresPerSecond)
            + Square(perTime * Velocity.ZeroUncertaintySeconds)
            + Square(perTime * Velocity.CoatingUncertaintySeconds)
            + 2 * perVelocity * perTime * Velocity.VelocityZeroCovariance;
        return Math.Sqrt(Math.Max(variance, 0));
    }

    /// <summary>Combined standard uncertainty of independent parts, metres.</summary>
    /// <param name="noiseMetres">Noise part.</param>
    /// <param name="calibrationMetres">Calibration part.</param>
    /// <param name="samplingMetres">Sampling part.</param>
    public static double CombinedMetres(double noiseMetres, double calibrationMetres, double samplingMetres = 0) =>
        Math.Sqrt(Square(noiseMetres) + Square(calibrationMetres) + Square(samplingMetres));

    /// <summary>Correlation of the noise a number of samples apart, for an ideal band of <see cref="NoiseBandwidthHz"/>.</summary>
    /// <remarks><c>sinc(B lag T) cos(2π f lag T)</c>, f its middle; white noise up to half the rate gives 0. On an envelope only the sinc.</remarks>
    private double NoiseCorrelation(int lag, bool onEnvelope)
    {
        double x = Math.PI * NoiseBandwidthHz * lag / SampleRateHz;
        double sinc = x == 0 ? 1 : Math.Sin(x) / x;
        return onEnvelope ? sinc : sinc * Math.Cos(2 * Math.PI * _noiseCentreHz * lag / SampleRateHz);
    }

    /// <summary>Time before the peak at which the model pulse's half wave reaches a fraction of it, negative.</summary>
    private double FlankSeconds(double fraction)
    {
        double low = -0.25 / Pulse.FrequencyHz;
        double high = 0;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            if (Pulse.Value(middle) < fraction)
                low = middle;
            else
                high = middle;
        }
        return (low + high) / 2;
    }

    private static double Square(double value) => value * value;
}
