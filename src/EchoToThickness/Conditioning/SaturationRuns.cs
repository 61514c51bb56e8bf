using System.Numerics;
using System.Numerics.Tensors;
using System.Runtime.InteropServices;
using EchoToThickness.Stacks;

namespace EchoToThickness.Conditioning;

/// <summary>
/// Stretches of one A-scan that are cut off at the rails of the digitiser. Looked for in the stored samples, before any filter
/// smooths the flat tops away. Reused from A-scan to A-scan; allocates nothing after construction.
/// </summary>
/// <remarks>
/// A run of at least <c>saturation_samples</c> consecutive samples at or beyond one rail is saturated. Where a rail is unknown (NaN)
/// the record's own extreme takes its place, with at least 3 samples that equal it exactly, unless the whole record is one value:
/// a sampled smooth echo does not repeat its highest value three times, a limiter does. Common practice, no source.
/// </remarks>
public sealed class SaturationRuns
{
    /// <summary>Shortest plateau that counts as a limiter when the rails are unknown.</summary>
    public const int ShortestPlateau = 3;

    private readonly (int First, int Last)[] _runs;

    /// <summary>Makes room for records of a length.</summary>
    /// <param name="samples">Samples of one A-scan.</param>
    public SaturationRuns(int samples) => _runs = new (int, int)[samples + 2];

    /// <summary>Number of saturated stretches.</summary>
    public int Count { get; private set; }

    /// <summary>Saturated samples in all.</summary>
    public int SampleCount { get; private set; }

    /// <summary>First and last sample of a stretch; those at the upper rail first, each side in order of time.</summary>
    /// <param name="index">0 to <see cref="Count"/> - 1.</param>
    public (int First, int Last) this[int index] => _runs[index];

    /// <summary>Whether a saturated stretch touches a sample of a range.</summary>
    /// <param name="first">First sample.</param>
    /// <param name="last">Last sample, inclusive.</param>
    public bool Touch(int first, int last)
    {
        for (int run = 0; run < Count; run++)
        {
            if (_runs[run].First <= last && _runs[run].Last >= first)
                return true;
        }
        return false;
    }

    /// <summary>Looks through one A-scan.</summary>
    /// <param name="bytes">Shape [sample], stored type, native byte order.</param>
    /// <param name="type">Stored type.</param>
    /// <param name="scale">Rails in counts; NaN when unknown.</param>
    /// <param name="minimumSamples">Consecutive samples that count as saturation; 0 to find none.</param>
    public void Detect(ReadOnlySpan<byte> bytes, SampleType type, AmplitudeScale scale, int minimumSamples)
    {
        Count = 0;
        SampleCount = 0;
        if (minimumSamples <= 0)
            return;
        switch (type)
        {
            case SampleType.Int8:
                Detect(MemoryMarshal.Cast<byte, sbyte>(bytes), scale, minimumSamples);
                break;
            case SampleType.UInt8:
                Detect(bytes, scale, minimumSamples);
                break;
            case SampleType.Int16:
                Detect(MemoryMarshal.Cast<byte, short>(bytes), scale, minimumSamples);
                break;
            case SampleType.UInt16:
                Detect(MemoryMarshal.Cast<byte, ushort>(bytes), scale, minimumSamples);
                break;
            case SampleType.Float32:
                Detect(MemoryMarshal.Cast<byte, float>(bytes), scale, minimumSamples);
                break;
            case SampleType.Float64:
                Detect(MemoryMarshal.Cast<byte, double>(bytes), scale, minimumSamples);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(type), type, "Unknown sample type.");
        }
    }

    private void Detect<T>(ReadOnlySpan<T> samples, AmplitudeScale scale, int minimumSamples)
        where T : unmanaged, INumber<T>
    {
        if (samples.IsEmpty)
            return;
        T largest = TensorPrimitives.Max(samples);
        T smallest = TensorPrimitives.Min(samples);
        bool flat = largest == smallest;
        double high = double.CreateTruncating(largest);
        double low = double.CreateTruncating(smallest);
        // A rail on the zero level's own side is silence, not saturation (a rectified record rests on its lowest value).
        if (double.IsNaN(scale.MaximumCounts))
        {
            if (!flat && high > scale.ZeroCounts)
                Plateaus(samples, largest, Shortest(scale.MaximumCounts, minimumSamples));
        }
        else if (high >= scale.MaximumCounts && scale.MaximumCounts > scale.ZeroCounts)
        {
            Beyond(samples, scale.MaximumCounts, 1, minimumSamples);
        }
        if (double.IsNaN(scale.MinimumCounts))
        {
            if (!flat && low < scale.ZeroCounts)
                Plateaus(samples, smallest, Shortest(scale.MinimumCounts, minimumSamples));
        }
        else if (low <= scale.MinimumCounts && scale.MinimumCounts < scale.ZeroCounts)
        {
            Beyond(samples, scale.MinimumCounts, -1, minimumSamples);
        }
    }

    private void Plateaus<T>(ReadOnlySpan<T> samples, T extreme, int shortest)
        where T : unmanaged, INumber<T>
    {
        for (int first = 0; first < samples.Length; )
        {
            int next = samples[first..].IndexOf(extreme);
            if (next < 0)
                return;
            first += next;
            int end = first + 1;
            while (end < samples.Length && samples[end] == extreme)
                end++;
            Add(first, end, shortest);
            first = end;
        }
    }

    private void Beyond<T>(ReadOnlySpan<T> samples, double rail, int side, int shortest)
        where T : unmanaged, INumber<T>
    {
        int first = -1;
        for (int i = 0; i <= samples.Length; i++)
        {
            if (i < samples.Length && side * (double.CreateTruncating(samples[i]) - rail) >= 0)
            {
                if (first < 0)
                    first = i;
            }
            else if (first >= 0)
            {
                Add(first, i, shortest);
                first = -1;
            }
        }
    }

    private void Add(int first, int end, int shortest)
    {
        if (end - first < shortest)
            return;
        _runs[Count++] = (first, end - 1);
        SampleCount += end - first;
    }

    private static int Shortest(double railCounts, int minimumSamples) =>
        double.IsNaN(railCounts) ? Math.Max(minimumSamples, ShortestPlateau) : minimumSamples;
}
