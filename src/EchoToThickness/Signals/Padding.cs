namespace EchoToThickness.Signals;

/// <summary>Copies stretches of a record with zeros where it ends.</summary>
internal static class Padding
{
    /// <summary>Length of the scratch that edge outputs use: longest filter and as many outputs again.</summary>
    internal const int Capacity = 2 * RealFir.MaximumTaps;

    /// <summary>Copies <c>record[from ..]</c>; zeros outside the record.</summary>
    /// <param name="record">Shape [sample].</param>
    /// <param name="from">First sample, may be negative.</param>
    /// <param name="destination">Takes samples and zeros.</param>
    internal static void Copy(ReadOnlySpan<float> record, int from, Span<float> destination)
    {
        int start = Math.Clamp(from, 0, record.Length);
        int end = Math.Clamp(from + destination.Length, start, record.Length);
        if (start == end)
        {
            destination.Clear();
            return;
        }
        destination[..(start - from)].Clear();
        record[start..end].CopyTo(destination[(start - from)..]);
        destination[(end - from)..].Clear();
    }
}
