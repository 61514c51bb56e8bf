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
}
