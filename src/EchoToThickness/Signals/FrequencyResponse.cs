using System.Numerics;

namespace EchoToThickness.Signals;

/// <summary>Frequency response of FIR taps: <c>H(f) = sum over k of h[k] exp(-2 pi i f k / rate)</c>.</summary>
public static class FrequencyResponse
{
    /// <summary>Response of real taps, delay included (as scipy.signal.freqz).</summary>
    /// <param name="taps">Shape [tap].</param>
    /// <param name="frequencyHz">Frequency.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    public static Complex At(ReadOnlySpan<double> taps, double frequencyHz, double sampleRateHz)
    {
        double omega = -2 * Math.PI * frequencyHz / sampleRateHz;
        Complex sum = Complex.Zero;
        for (int k = 0; k < taps.Length; k++)
            sum += taps[k] * Complex.FromPolarCoordinates(1, omega * k);
        return sum;
    }

    /// <summary>Response of complex taps, delay included; negative frequencies have a response of their own.</summary>
    /// <param name="taps">Taps.</param>
    /// <param name="frequencyHz">Frequency, positive or negative.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    public static Complex At(AnalyticTaps taps, double frequencyHz, double sampleRateHz)
    {
        ArgumentNullException.ThrowIfNull(taps);
        return At(taps.Real, frequencyHz, sampleRateHz)
            + Complex.ImaginaryOne * At(taps.Imaginary, frequencyHz, sampleRateHz);
    }
}
