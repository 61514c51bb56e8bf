using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>The highest sample of a window, refined by the parabola through it and its neighbours.</summary>
public static class PeakPick
{
    /// <summary>Finds the highest sample, sign counting (pass a rectified signal for magnitudes); the earliest of equals.</summary>
    /// <param name="signal">Shape [sample].</param>
    /// <param name="first">First sample searched.</param>
    /// <param name="end">One past the last sample searched.</param>
    /// <param name="path">Implementation.</param>
    /// <returns>Its index in the signal; -1 when there is none.</returns>
    public static int Highest(ReadOnlySpan<float> signal, int first, int end, KernelPath path)
    {
        int i = Magnitude.IndexOfLargestSigned(signal[first..end], path);
        return i < 0 ? -1 : first + i;
    }

    /// <summary>Position of the peak around a sample: the sample plus <see cref="SubSample.Parabola"/>, at most half a sample away.</summary>
    /// <param name="signal">Shape [sample]; neighbours may lie outside the gate, not outside the record.</param>
    /// <param name="sample">Highest sample.</param>
    /// <returns>Samples from the start of the signal; the sample itself at either end of the record.</returns>
    /// <remarks>
    /// Formula and bias as <see cref="SubSample.Parabola"/>: towards the sample grid, under 0.002 sample at 20 samples a cycle. A peak
    /// moves with the phase of the echo, so interface and back-wall echoes (opposite signs) must be timed on opposite half waves.
    /// </remarks>
    public static double Refine(ReadOnlySpan<float> signal, int sample) =>
        sample <= 0 || sample >= signal.Length - 1
            ? sample
            : sample + SubSample.Parabola(signal[sample - 1], signal[sample], signal[sample + 1]);
}
