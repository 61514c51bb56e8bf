namespace EchoToThickness.Simulation;

/// <summary>A Gaussian-windowed cosine, <c>p(t) = exp(-t² / 2σ²) cos(2π f t)</c>: the echo of a damped transducer, peak 1 at t = 0.</summary>
/// <remarks>
/// The spectrum around f is <c>exp(-(2πΔ)² σ² / 2)</c>; it has fallen to one half (-6 dB) at Δ = B f / 2, so
/// <c>σ = sqrt(2 ln 2) / (π B f)</c> with B the relative -6 dB bandwidth.
/// </remarks>
public sealed class GaborPulse
{
    /// <summary>Makes a pulse.</summary>
    /// <param name="frequencyHz">Centre frequency, hertz.</param>
    /// <param name="bandwidthFraction">Relative bandwidth at -6 dB (0.6 = 60 %).</param>
    public GaborPulse(double frequencyHz, double bandwidthFraction)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(frequencyHz);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(bandwidthFraction);
        FrequencyHz = frequencyHz;
        SigmaSeconds = Math.Sqrt(2 * Math.Log(2)) / (Math.PI * bandwidthFraction * frequencyHz);
    }

    /// <summary>Centre frequency, hertz.</summary>
    public double FrequencyHz { get; }

    /// <summary>Standard deviation of the Gaussian window, seconds.</summary>
    public double SigmaSeconds { get; }

    /// <summary>Half the time after which the pulse is below 4e-6 of its peak and left out, seconds.</summary>
    public double ReachSeconds => 5 * SigmaSeconds;

    /// <summary>Adds one echo to an A-scan.</summary>
    /// <param name="samples">Shape [sample]; changed in place.</param>
    /// <param name="startSeconds">Time of sample 0, seconds.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="arrivalSeconds">Time of the echo's centre, seconds; parts outside the record are cut.</param>
    /// <param name="amplitude">Signed amplitude, in the unit of the samples.</param>
    public void Add(
        Span<float> samples,
        double startSeconds,
        double sampleRateHz,
        double arrivalSeconds,
        double amplitude
    )
    {
        double first = Math.Ceiling((arrivalSeconds - ReachSeconds - startSeconds) * sampleRateHz);
        double last = Math.Floor((arrivalSeconds + ReachSeconds - startSeconds) * sampleRateHz);
        for (int i = (int)Math.Max(first, 0); i <= Math.Min(last, samples.Length - 1); i++)
        {
            double time = startSeconds + i / sampleRateHz - arrivalSeconds;
            double scaled = time / SigmaSeconds;
            samples[i] += (float)(
                amplitude * Math.Exp(-0.5 * scaled * scaled) * Math.Cos(2 * Math.PI * FrequencyHz * time)
            );
        }
    }
}
