using System.Numerics;

namespace EchoToThickness.Simulation.Waves;

/// <summary>The pulse that the array sends and receives, as a one-sided spectrum; time 0 is its centre.</summary>
/// <remarks><c>x(t) = Re integral X(f) exp(-i 2 pi f t) df</c> over positive frequencies: a delay tau multiplies X by <c>exp(i 2 pi f tau)</c>.</remarks>
public sealed class WavePulse
{
    private const double GaborReach = 5;
    private const double GaborBand = 4.5;
    private readonly GaborPulse? _gabor;
    private readonly Complex _phase;
    private readonly float[] _samples = [];
    private readonly double _sampleRateHz;
    private readonly int _centre;

    private WavePulse(GaborPulse gabor, double phaseRadians)
    {
        _gabor = gabor;
        _phase = Complex.FromPolarCoordinates(1, -phaseRadians);
        CentreHz = gabor.FrequencyHz;
        double deviationHz = 1 / (2 * Math.PI * gabor.SigmaSeconds);
        LowestHz = Math.Max(gabor.FrequencyHz - GaborBand * deviationHz, 0.05 * gabor.FrequencyHz);
        HighestHz = gabor.FrequencyHz + GaborBand * deviationHz;
        ReachBeforeSeconds = ReachAfterSeconds = GaborReach * gabor.SigmaSeconds;
    }

    private WavePulse(float[] samples, double sampleRateHz, int centre)
    {
        _samples = samples;
        _sampleRateHz = sampleRateHz;
        _centre = centre;
        ReachBeforeSeconds = (centre + 1) / sampleRateHz;
        ReachAfterSeconds = (samples.Length - centre) / sampleRateHz;
        FindBand(out double lowest, out double highest, out double centreHz);
        (LowestHz, HighestHz, CentreHz) = (lowest, highest, centreHz);
    }

    /// <summary>Centre frequency: of a Gabor pulse as given, of a measured one the centroid of its squared spectrum.</summary>
    public double CentreHz { get; }

    /// <summary>Lower edge of the band that is computed.</summary>
    public double LowestHz { get; }

    /// <summary>Upper edge of the band that is computed.</summary>
    public double HighestHz { get; }

    /// <summary>Time before the centre at which the pulse begins, seconds.</summary>
    public double ReachBeforeSeconds { get; }

    /// <summary>Time after the centre at which the pulse has ended, seconds.</summary>
    public double ReachAfterSeconds { get; }

    /// <summary>
    /// A cosine under a Gaussian, peak 1 at time 0 (<see cref="GaborPulse"/>). The spectrum is cut 4.5 deviations from its centre and at 5 % of the
    /// centre frequency: what is left out is below 2e-4 of the peak at 60 % bandwidth.
    /// </summary>
    /// <param name="frequencyHz">Centre frequency.</param>
    /// <param name="bandwidthFraction">Relative bandwidth at -6 dB.</param>
    /// <param name="phaseRadians">Phase of the cosine: <c>cos(2 pi f t + phase)</c>.</param>
    public static WavePulse Gabor(double frequencyHz, double bandwidthFraction, double phaseRadians = 0) =>
        new(new GaborPulse(frequencyHz, bandwidthFraction), phaseRadians);

    /// <summary>A measured pulse; its band ends where the spectrum has fallen to 1/500 of its peak.</summary>
    /// <param name="samples">Shape [sample]; scaled to a largest magnitude of 1. Should begin and end near zero.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="centreSample">Sample at time 0; null: the peak of the envelope.</param>
    /// <exception cref="ArgumentException">Fewer than 8 samples, all zero, or not finite.</exception>
    public static WavePulse Measured(ReadOnlySpan<float> samples, double sampleRateHz, int? centreSample = null)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sampleRateHz);
        if (samples.Length < 8)
            throw new ArgumentException($"A pulse needs at least 8 samples, found {samples.Length}.", nameof(samples));
        float peak = 0;
        foreach (float sample in samples)
        {
            if (!float.IsFinite(sample))
                throw new ArgumentException("The pulse holds a sample that is not finite.", nameof(samples));
            peak = Math.Max(peak, Math.Abs(sample));
        }
        if (peak == 0)
            throw new ArgumentException("All samples of the pulse are zero.", nameof(samples));
        var scaled = new float[samples.Length];
        for (int i = 0; i < scaled.Length; i++)
            scaled[i] = samples[i] / peak;
        int centre = centreSample ?? EnvelopePeak(scaled, sampleRateHz);
        ArgumentOutOfRangeException.ThrowIfNegative(centre);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(centre, samples.Length);
        return new WavePulse(scaled, sampleRateHz, centre);
    }

    /// <summary>Spectral density X(f), one-sided.</summary>
    /// <param name="frequencyHz">Positive frequency.</param>
    /// <returns>Seconds (amplitude a hertz).</returns>
    public Complex Spectrum(double frequencyHz)
    {
        if (_gabor is { } gabor)
        {
            double scaled = 2 * Math.PI * (frequencyHz - gabor.FrequencyHz) * gabor.SigmaSeconds;
            return _phase * (Math.Sqrt(2 * Math.PI) * gabor.SigmaSeconds * Math.Exp(-0.5 * scaled * scaled));
        }
        return 2 / _sampleRateHz * Transform(_samples, frequencyHz / _sampleRateHz, _centre);
    }

    /// <summary>Sum of x[n] exp(i 2 pi nu (n - centre)).</summary>
    private static Complex Transform(ReadOnlySpan<float> samples, double cyclesASample, int centre)
    {
        Complex sum = Complex.Zero;
        for (int i = 0; i < samples.Length; i++)
            sum += samples[i] * Complex.FromPolarCoordinates(1, 2 * Math.PI * cyclesASample * (i - centre));
        return sum;
    }

    private void FindBand(out double lowestHz, out double highestHz, out double centreHz)
    {
        const int Steps = 512;
        Span<double> magnitudes = stackalloc double[Steps];
        double peak = 0;
        double moment = 0;
        double total = 0;
        for (int i = 1; i < Steps; i++)
        {
            magnitudes[i] = Transform(_samples, 0.5 * i / Steps, _centre).Magnitude;
            peak = Math.Max(peak, magnitudes[i]);
            total += magnitudes[i] * magnitudes[i];
            moment += magnitudes[i] * magnitudes[i] * i;
        }
        int first = 1;
        while (magnitudes[first] < peak / 500)
            first++;
        int last = Steps - 1;
        while (magnitudes[last] < peak / 500)
            last--;
        double step = 0.5 * _sampleRateHz / Steps;
        centreHz = moment / total * step;
        lowestHz = Math.Max(first * step, 0.05 * centreHz);
        highestHz = (last + 1) * step;
    }

    private static int EnvelopePeak(ReadOnlySpan<float> samples, double sampleRateHz)
    {
        var pulse = new WavePulse(samples.ToArray(), sampleRateHz, 0);
        const int Frequencies = 256;
        double stepHz = (pulse.HighestHz - pulse.LowestHz) / Frequencies;
        int best = 0;
        double highest = 0;
        var spectrum = new Complex[Frequencies];
        for (int i = 0; i < Frequencies; i++)
            spectrum[i] = pulse.Spectrum(pulse.LowestHz + (i + 0.5) * stepHz);
        for (int n = 0; n < samples.Length; n++)
        {
            Complex sum = Complex.Zero;
            for (int i = 0; i < Frequencies; i++)
            {
                double f = pulse.LowestHz + (i + 0.5) * stepHz;
                sum += spectrum[i] * Complex.FromPolarCoordinates(1, -2 * Math.PI * f * n / sampleRateHz);
            }
            if (sum.Magnitude > highest)
                (highest, best) = (sum.Magnitude, n);
        }
        return best;
    }
}
