using System.Runtime.CompilerServices;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// First crossing and largest value of the envelope of one record, exact as if every sample had been computed, but computed at every
/// 4th sample and around the answers only. Scratch of one thread; nothing is allocated per record.
/// </summary>
/// <remarks>
/// A stretch of 4 samples is passed over only where <see cref="EnvelopeBound"/> proves that it cannot matter; stretches that may matter are
/// computed at the full rate. Where a sharp bound is missing (a band wide against the sample rate) that is every stretch: slower, never wrong.
/// </remarks>
internal sealed class EnvelopeSearch
{
    /// <summary>Full-rate samples computed at once.</summary>
    internal const int Window = 16;

    private const int BlockOutputs = 16;

    private readonly AnalyticFir _filter;
    private readonly PhaseSplit _split;
    private readonly EnvelopeBound _bound;
    private readonly int _half;
    private readonly int _margin;
    private readonly float[] _padded;
    private readonly float[] _coarse;
    private readonly int[] _blockRecord;
    private readonly float[] _fine = new float[Window];
    private readonly double _inputShare;
    private int _samples;
    private int _record;

    public EnvelopeSearch(AnalyticFir filter, double radiansPerSample, int samples)
    {
        _filter = filter;
        _bound = new EnvelopeBound(filter.Taps, radiansPerSample);
        _half = filter.HalfLength;
        _margin = _half + Window + 8;
        _padded = new float[_margin + samples + _margin];
        _split = new PhaseSplit(filter, samples);
        int blocks = samples / 4 / BlockOutputs + 2;
        _coarse = new float[blocks * BlockOutputs + BlockOutputs];
        _blockRecord = new int[blocks];
        _samples = samples;
        _inputShare = (1 - 1e-4) / filter.Taps.Gain;
    }

    /// <summary>Where the record goes before <see cref="Begin"/>.</summary>
    public Span<float> Record => _padded.AsSpan(_margin, _samples);

    /// <summary>Starts on the record that was written to <see cref="Record"/>.</summary>
    public void Begin()
    {
        _record++;
        _split.Load(Record);
    }

    /// <summary>Squared envelope of 16 samples.</summary>
    /// <param name="first">First sample; may lie up to 16 samples outside the record.</param>
    /// <returns>Shape [16]; valid until the next call.</returns>
    public Span<float> Fine(int first)
    {
        _filter.SquaredEnvelopePadded(ref _padded[_margin + first - _half], ref _fine[0], Window);
        return _fine;
    }

    /// <summary>First sample whose squared envelope reaches a level.</summary>
    /// <param name="first">First sample searched.</param>
    /// <param name="end">One past the last sample searched.</param>
    /// <param name="level">Level of the envelope.</param>
    /// <param name="squaredLevel">Smallest squared envelope that reaches it.</param>
    /// <param name="before">Squared envelope of the sample before the one found.</param>
    /// <param name="found">Squared envelope of the sample found.</param>
    /// <returns>The sample; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int FirstAtLeast(int first, int end, float level, float squaredLevel, out float before, out float found)
    {
        before = 0;
        found = 0;
        KernelPath path = _filter.Path;
        int i = first;
        while (i < end)
        {
            // |y| <= gain max|x|: no sample more than half a filter before the first input over level / gain can reach the level.
            int from = _margin + i - _half;
            int input = Magnitude.FirstAtLeast(
                _padded.AsSpan(from, _margin + end + _half - from),
                (float)(level * _inputShare),
                path
            );
            if (input < 0)
                return -1;
            i = Math.Max(i, i + input - 2 * _half);
            // One block of every 4th sample from there.
            int interval = i >> 2;
            int stop = (interval / BlockOutputs + 1) * BlockOutputs - 1;
            if (interval == stop)
                stop += BlockOutputs;
            Ensure(interval, stop);
            int last = Math.Min(4 * stop, end);
            double largest = Largest(4 * interval, 4 * stop);
            int maybe = FirstPossible(
                interval,
                stop,
                squaredLevel,
                Threshold(level, _bound.Side * largest),
                Threshold(level, _bound.Middle * largest)
            );
            if (maybe >= stop)
            {
                i = last;
                continue;
            }
            i = Math.Max(i, 4 * maybe);
            int window = i - 1;
            Span<float> fine = Fine(window);
            int upTo = Math.Min(Window, end - window);
            for (int k = 1; k < upTo; k++)
            {
                if (fine[k] >= squaredLevel)
                {
                    before = fine[k - 1];
                    found = fine[k];
                    return window + k;
                }
            }
            i = window + Window;
        }
        return -1;
    }

    /// <summary>Sample with the largest envelope, the earliest of equals, and its neighbours.</summary>
    /// <param name="first">First sample searched.</param>
    /// <param name="end">One past the last sample searched; larger than <paramref name="first"/>.</param>
    /// <param name="before">Squared envelope one sample before.</param>
    /// <param name="peak">Squared envelope of the sample.</param>
    /// <param name="after">Squared envelope one sample after.</param>
    /// <returns>The sample.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int Largest(int first, int end, out float before, out float peak, out float after)
    {
        KernelPath path = _filter.Path;
        int low = first >> 2;
        int high = (end + 2) >> 2;
        Ensure(low, high);
        int inFirst = (first + 3) >> 2;
        int inEnd = (end + 3) >> 2;
        int at = first;
        if (inEnd > inFirst)
            at = 4 * (inFirst + Magnitude.IndexOfLargestSigned(_coarse.AsSpan(inFirst, inEnd - inFirst), path));
        // The top lies within 2 samples of the coarse one, on the side of the higher neighbour.
        int window = at - 8;
        if (at >> 2 > 0)
            window += _coarse[(at >> 2) + 1] > _coarse[(at >> 2) - 1] ? 2 : -1;
        Span<float> fine = Fine(window);
        int best = -1;
        float largest = -1;
        Improve(fine, window, first, end, ref best, ref largest);
        double input = Largest(4 * low, 4 * high);
        double top = Math.Sqrt(largest);
        float side = Threshold(top, _bound.Side * input);
        float middle = Threshold(top, _bound.Middle * input);
        int done = window;
        int held = window;
        int interval = low;
        while (interval < high)
        {
            interval = FirstPossible(interval, high, float.PositiveInfinity, side, middle);
            if (interval >= high)
                break;
            if (4 * interval + 1 >= done && 4 * interval + 3 < done + Window)
            {
                interval++;
                continue;
            }
            held = 4 * interval;
            fine = Fine(held);
            Improve(fine, held, first, end, ref best, ref largest);
            interval += Window / 4;
        }
        if (best <= held || best >= held + Window - 1)
        {
            held = best - Window / 2;
            fine = Fine(held);
        }
        before = fine[best - held - 1];
        peak = fine[best - held];
        after = fine[best - held + 1];
        return best;
    }

    private static void Improve(Span<float> fine, int window, int first, int end, ref int best, ref float largest)
    {
        int from = Math.Max(first - window, 0);
        int to = Math.Min(end - window, Window);
        for (int k = from; k < to; k++)
        {
            if (fine[k] > largest || (fine[k] == largest && window + k < best))
            {
                largest = fine[k];
                best = window + k;
            }
        }
    }

    // (level - slack)^2 as a threshold on squares; 0 lets everything pass.
    private static float Threshold(double level, double slack)
    {
        double rest = level - slack;
        return rest > 0 ? (float)(rest * rest * (1 - 1e-6)) : 0;
    }

    // Largest |x| under the filter for outputs from sample first to sample last.
    private double Largest(int first, int last)
    {
        int from = Math.Max(_margin + first - _half, 0);
        int to = Math.Min(_margin + last + _half + 1, _padded.Length);
        return Magnitude.Largest(_padded.AsSpan(from, to - from), _filter.Path);
    }

    // First interval [4 j, 4 j + 4] in which a sample may reach what the thresholds stand for; end when none.
    private int FirstPossible(int from, int end, float ends, float side, float middle)
    {
        int j = CoarseKernels.FirstPossible(_coarse, from, end, ends, side, middle, _filter.Path);
        return j < 0 ? end : j;
    }

    // Computes the blocks that hold outputs from .. to (inclusive), neighbouring ones in one call.
    private void Ensure(int from, int to)
    {
        int block = from / BlockOutputs;
        int last = to / BlockOutputs;
        while (block <= last)
        {
            if (_blockRecord[block] == _record)
            {
                block++;
                continue;
            }
            int start = block;
            while (block <= last && _blockRecord[block] != _record)
                _blockRecord[block++] = _record;
            _split.SquaredEnvelope(
                start * BlockOutputs,
                ref _coarse[start * BlockOutputs],
                (block - start) * BlockOutputs
            );
        }
    }
}
