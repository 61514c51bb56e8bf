using EchoToThickness.Signals;

namespace EchoToThickness.Picks;

/// <summary>The highest point of the envelope near an echo, whatever signal found the echo.</summary>
public static class EnvelopePeakPick
{
    /// <summary>Finds the envelope's peak within a reach of a sample.</summary>
    /// <param name="filter">Analytic band-pass.</param>
    /// <param name="record">Shape [sample]: the record before the band-pass.</param>
    /// <param name="sample">Sample that found the echo.</param>
    /// <param name="reach">Samples looked at on either side, at least 1; one more is used for the parabola.</param>
    /// <param name="scratch">Shape [2 reach + 3] or longer.</param>
    /// <returns>Samples from the start of the record.</returns>
    /// <exception cref="ArgumentException">The scratch is too short.</exception>
    /// <remarks>
    /// Parabola through three envelope values, at most half a sample away. Independent of the phase of the echo, hence of its sign. Bias:
    /// on a Gaussian envelope of standard deviation s samples the parabola errs by about <c>-d (1 - 4 d^2) / (4 s^2)</c> at offset d, 0.0005
    /// sample at s = 10. Dispersive or overlapping echoes move it.
    /// </remarks>
    public static double Near(
        AnalyticFir filter,
        ReadOnlySpan<float> record,
        int sample,
        int reach,
        Span<float> scratch
    )
    {
        ArgumentNullException.ThrowIfNull(filter);
        ArgumentOutOfRangeException.ThrowIfLessThan(reach, 1);
        if (scratch.Length < 2 * reach + 3)
            throw new ArgumentException(
                $"The scratch holds {scratch.Length} samples; {2 * reach + 3} are needed.",
                nameof(scratch)
            );
        int from = Math.Max(sample - reach - 1, 0);
        int to = Math.Min(sample + reach + 2, record.Length);
        Span<float> envelope = scratch[..(to - from)];
        filter.Envelope(record, from, envelope);
        int first = Math.Max(sample - reach, 0) - from;
        int end = Math.Min(sample + reach + 1, record.Length) - from;
        int peak = PeakPick.Highest(envelope, first, end, filter.Path);
        return peak < 0 ? double.NaN : from + PeakPick.Refine(envelope, peak);
    }
}
