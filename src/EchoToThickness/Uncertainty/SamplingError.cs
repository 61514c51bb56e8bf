namespace EchoToThickness.Uncertainty;

/// <summary>Timing errors that come from sampling alone.</summary>
public static class SamplingError
{
    /// <summary>Standard uncertainty of a time read to the nearest sample, <c>T / sqrt(12)</c>, seconds (JCGM 100:2008, 4.3.7).</summary>
    /// <param name="sampleRateHz">Sample rate.</param>
    public static double NearestSampleSeconds(double sampleRateHz) => 1 / (sampleRateHz * Math.Sqrt(12));

    /// <summary>Bias of the parabola through three samples of a cosine's peak, <c>tan(w δ) / (2 tan(w/2)) - δ</c>, samples.</summary>
    /// <param name="samplesPerCycle">Samples a cycle, above 2.</param>
    /// <param name="offsetSamples">True place of the peak from the highest sample, -0.5 to 0.5.</param>
    public static double ParabolaBiasSamples(double samplesPerCycle, double offsetSamples)
    {
        double w = 2 * Math.PI / samplesPerCycle;
        return Math.Tan(w * offsetSamples) / (2 * Math.Tan(w / 2)) - offsetSamples;
    }

    /// <summary>Largest of these biases over all offsets, where <c>cos²(w δ) = w / (2 tan(w/2))</c>, samples, positive.</summary>
    /// <param name="samplesPerCycle">Samples a cycle, above 2.</param>
    public static double LargestParabolaBiasSamples(double samplesPerCycle)
    {
        double w = 2 * Math.PI / samplesPerCycle;
        double offset = Math.Acos(Math.Sqrt(w / (2 * Math.Tan(w / 2)))) / w;
        return Math.Abs(ParabolaBiasSamples(samplesPerCycle, offset));
    }

    /// <summary>Standard uncertainty of a parabola pick: the bias varies like a sine over the offset, <c>largest / sqrt(2)</c>, seconds.</summary>
    /// <param name="frequencyHz">Frequency of the echo.</param>
    /// <param name="sampleRateHz">Sample rate, above twice the frequency.</param>
    public static double ParabolaSeconds(double frequencyHz, double sampleRateHz) =>
        LargestParabolaBiasSamples(sampleRateHz / frequencyHz) / Math.Sqrt(2) / sampleRateHz;

    /// <summary>Bias of the parabola through three samples of a Gaussian envelope's peak, samples.</summary>
    /// <param name="deviationSamples">Standard deviation of the envelope, samples.</param>
    /// <param name="offsetSamples">True place of the peak from the highest sample, -0.5 to 0.5.</param>
    public static double EnvelopeParabolaBiasSamples(double deviationSamples, double offsetSamples)
    {
        double At(double sample) => Math.Exp(-Math.Pow((sample - offsetSamples) / deviationSamples, 2) / 2);
        (double before, double top, double after) = (At(-1), At(0), At(1));
        return (before - after) / (2 * (before - 2 * top + after)) - offsetSamples;
    }

    /// <summary>Root mean square of that bias over all offsets, seconds.</summary>
    /// <param name="deviationSeconds">Standard deviation of the envelope.</param>
    /// <param name="sampleRateHz">Sample rate.</param>
    public static double EnvelopeParabolaSeconds(double deviationSeconds, double sampleRateHz)
    {
        const int Offsets = 32;
        double sum = 0;
        for (int i = 0; i < Offsets; i++)
        {
            double bias = EnvelopeParabolaBiasSamples(deviationSeconds * sampleRateHz, (i + 0.5) / (2 * Offsets));
            sum += bias * bias;
        }
        return Math.Sqrt(sum / Offsets) / sampleRateHz;
    }
}
