namespace EchoToThickness.Picks;

/// <summary>Which samples a window of time holds.</summary>
public static class WindowSamples
{
    /// <summary>
    /// First sample at or after an instant: <c>ceil((t - t0) fs - 1e-9)</c>; the billionth of a sample keeps an instant that falls on a
    /// sample there in spite of rounding. A window [start, end) holds the samples from IndexAt(start) to IndexAt(end) - 1.
    /// </summary>
    /// <param name="seconds">Instant, seconds from the pulse; may be infinite.</param>
    /// <param name="startSeconds">Time of sample 0.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <returns>Index, not cut to any record, held to ±2^30.</returns>
    public static int IndexAt(double seconds, double startSeconds, double sampleRateHz) =>
        (int)Math.Clamp(Math.Ceiling((seconds - startSeconds) * sampleRateHz - 1e-9), -(1 << 30), 1 << 30);

    /// <summary>The samples of a record that lie in a window of time, [first, end).</summary>
    /// <param name="fromSeconds">Start of the window, seconds from the pulse; null for the start of the record.</param>
    /// <param name="toSeconds">End of the window, seconds from the pulse; null for the end of the record.</param>
    /// <param name="startSeconds">Time of sample 0.</param>
    /// <param name="sampleRateHz">Samples a second.</param>
    /// <param name="samples">Samples of the record.</param>
    /// <returns>First sample and one past the last, cut to the record; empty where the window lies outside.</returns>
    public static (int First, int End) Within(
        double? fromSeconds,
        double? toSeconds,
        double startSeconds,
        double sampleRateHz,
        int samples
    )
    {
        int first = fromSeconds is { } from ? IndexAt(from, startSeconds, sampleRateHz) : 0;
        int end = toSeconds is { } to ? IndexAt(to, startSeconds, sampleRateHz) : samples;
        first = Math.Clamp(first, 0, samples);
        return (first, Math.Clamp(end, first, samples));
    }
}
