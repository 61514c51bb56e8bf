using System.Runtime.CompilerServices;
using EchoToThickness.Signals;

namespace EchoToThickness.Measurement.Fast;

/// <summary>
/// First crossing and largest value of the envelope of one record, exact as if every sample had been computed, but computed only where
/// the answer can lie. Scratch of one thread; nothing is allocated per record.
/// </summary>
/// <remarks>
/// Two proofs say where it cannot lie, and assume nothing about the record but its largest magnitude:
/// (1) <c>|y(i)| &lt;= G a + T_s b</c> where the record stays under a under the filter but for its s outermost taps at one end, and under b
/// there; G is the sum of the taps' magnitudes, T_s that of the s outermost. (2) <see cref="EnvelopeBound"/> between samples 4 apart.
/// Where they are of no use (noise as strong as the level, a band wide against the sample rate) everything is computed: slower, never wrong.
/// </remarks>
internal sealed class EnvelopeSearch
{
    private const int Window = 16;
    private const int FirstWindow = 32;
    private const int Outputs = 32;

    // Sums in single precision stay within 1e-5 of gain times maximum.
    private const double Rounding = 1e-5;

    private readonly AnalyticFir _filter;
    private readonly PhaseSplit _split;
    private readonly EnvelopeBound _bound;
    private readonly int _half;
    private readonly int _margin;
    private readonly int _samples;
    private readonly int _shift;
    private readonly double _gain;
    private readonly double _tail;
    private readonly float[] _padded;
    private readonly float[] _coarse;
    private readonly float[] _fine = new float[FirstWindow];
    private int _coarseFirst;
    private int _coarseEnd;

    public EnvelopeSearch(AnalyticFir filter, double radiansPerSample, int samples)
    {
        _filter = filter;
        _bound = new EnvelopeBound(filter.Taps, radiansPerSample);
        _half = filter.HalfLength;
        int margin = _half + 2 * FirstWindow;
        // The margin behind the record also holds the zeros up to a multiple of 64 samples.
        _samples = samples;
        _padded = AlignedBuffer.Create(margin, samples + margin, out _margin);
        _split = new PhaseSplit(filter, samples);
        _coarse = new float[samples / 4 + 2 * Outputs + 2];
        _gain = filter.Taps.Gain * (1 + Rounding);
        // As many outermost taps as together are a twentieth of the gain.
        for (_shift = 0; _shift < _half; _shift++)
        {
            double next = double.Hypot(filter.Taps.Real[_shift], filter.Taps.Imaginary[_shift]);
            if (_tail + next > 0.05 * filter.Taps.Gain)
                break;
            _tail += next;
        }
    }

    /// <summary>Where the record goes before <c>Begin</c>.</summary>
    public Span<float> Record => _padded.AsSpan(_margin, _samples);

    /// <summary>Starts on the record that was written to <see cref="Record"/>.</summary>
    public void Begin()
    {
        _coarseFirst = _coarseEnd = 0;
        _split.LoadPadded(_padded.AsSpan(_margin), _samples);
    }

    /// <summary>Converts 16-bit samples to <see cref="Record"/> and starts on them.</summary>
    /// <param name="stored">Shape [sample].</param>
    /// <param name="zeroCounts">Counts that mean no signal.</param>
    /// <param name="scale">Fraction of full scale of one count.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Begin(ReadOnlySpan<short> stored, float zeroCounts, float scale)
    {
        _coarseFirst = _coarseEnd = 0;
        _split.LoadPadded(stored, zeroCounts, scale, _padded.AsSpan(_margin));
    }

    /// <summary>First sample whose squared envelope reaches a level.</summary>
    /// <param name="first">First sample searched.</param>
    /// <param name="end">One past the last sample searched.</param>
    /// <param name="level">Level of the envelope.</param>
    /// <param name="squaredLevel">Smallest squared envelope that reaches it.</param>
    /// <param name="largest">No magnitude of the record is larger.</param>
    /// <param name="before">Squared envelope of the sample before the one found.</param>
    /// <param name="found">Squared envelope of the sample found.</param>
    /// <returns>The sample; -1 when none.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int FirstAtLeast(
        int first,
        int end,
        float level,
        float squaredLevel,
        double largest,
        out float before,
        out float found
    )
    {
        before = 0;
        found = 0;
        float input = Input(level, largest);
        int lastGroup = (end + _half + 3) >> 2;
        int i = first;
        while (i < end)
        {
            int group = (i - _half) >> 2;
            int ahead = Magnitude.FirstSignedAtLeast(_split.Largest(group, lastGroup), input, _filter.Path);
            if (ahead < 0)
                return -1;
            i = Math.Max(i, 4 * (group + ahead) - _half + _shift);
            if (i >= end)
                return -1;
            int window = i - 1;
            Span<float> fine = Fine(window, FirstWindow);
            int at = Magnitude.FirstSignedAtLeast(
                fine[1..Math.Min(FirstWindow, end - window)],
                squaredLevel,
                _filter.Path
            );
            if (at >= 0)
            {
                before = fine[at];
                found = fine[at + 1];
                return i + at;
            }
            i = window + FirstWindow;
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
        int low = first >> 2;
        int high = (end + 2) >> 2;
        int window = Guess(first, end, low, high);
        Span<float> fine = Fine(window, Window);
        int best = -1;
        float largest = -1;
        Improve(fine, window, first, end, ref best, ref largest);
        int held = window;

        // Outputs between the first and the last input that could raise the envelope over what was found, and the gate's ends.
        int fromGroup = (first - _half) >> 2;
        ReadOnlySpan<float> groups = _split.Largest(fromGroup, ((end + _half + 3) >> 2) + 1);
        double most = Magnitude.LargestOrNotFinite(groups, _filter.Path);
        double top = Math.Sqrt(largest);
        float input = Input(top, most);
        int firstGroup = Magnitude.FirstSignedAtLeast(groups, input, _filter.Path);
        if (firstGroup >= 0)
        {
            int lastGroup = CoarseKernels.LastAtLeast(groups, input, _filter.Path);
            int from = Math.Max(low, (4 * (fromGroup + firstGroup) - _half + _shift) >> 2);
            int to = Math.Min(high, (4 * (fromGroup + lastGroup) + 3 + _half - _shift + 4) >> 2);
            float side = Threshold(top, _bound.Side * most);
            float middle = Threshold(top, _bound.Middle * most);
            Ensure(from, to);
            // Intervals up to the window, then those behind it; of the two at its edges only the samples outside.
            int left = (window - 1) >> 2;
            int right = (window + Window) >> 2;
            Scan(from, Math.Min(left, to), side, middle, first, end, ref held, ref best, ref largest);
            if (EdgeMatters(left, window, side, middle, from, to))
                Extra(left, first, end, ref held, ref best, ref largest);
            if (EdgeMatters(right, window, side, middle, from, to))
                Extra(right, first, end, ref held, ref best, ref largest);
            Scan(Math.Max(right + 1, from), to, side, middle, first, end, ref held, ref best, ref largest);
        }
        if (best <= held || best >= held + Window - 1)
        {
            held = best - Window / 2;
            Fine(held, Window);
        }
        before = _fine[best - held - 1];
        peak = _fine[best - held];
        after = _fine[best - held + 1];
        return best;
    }

    // Start of the full-rate window: around the highest output of the 32 about the strongest input.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private int Guess(int first, int end, int low, int high)
    {
        KernelPath path = _filter.Path;
        int strongest = low + Math.Max(0, Magnitude.IndexOfLargestSigned(_split.Largest(low, high), path));
        int from = Math.Clamp(strongest - Outputs / 2, low, Math.Max(low, high - Outputs + 1));
        Ensure(from, from + Outputs - 1);
        int inFirst = Math.Max((first + 3) >> 2, from);
        int inEnd = Math.Min((end + 3) >> 2, from + Outputs);
        if (inEnd <= inFirst)
            return first - 2;
        int at = inFirst + Magnitude.IndexOfLargestSigned(_coarse.AsSpan(inFirst, inEnd - inFirst), path);
        // The top lies within 2 samples of the output, on the side of its higher neighbour.
        float before = at > from ? _coarse[at - 1] : 0;
        float after = at + 1 < from + Outputs ? _coarse[at + 1] : 0;
        return 4 * at - (after > before ? 6 : 9);
    }

    // Looks at the intervals in which a sample may be larger than the largest so far.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Scan(
        int from,
        int to,
        float side,
        float middle,
        int first,
        int end,
        ref int held,
        ref int best,
        ref float largest
    )
    {
        while (from < to)
        {
            int interval = CoarseKernels.FirstPossible(_coarse, from, to, side, middle, _filter.Path);
            if (interval < 0)
                return;
            Extra(interval, first, end, ref held, ref best, ref largest);
            from = interval + Window / 4;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Extra(int interval, int first, int end, ref int held, ref int best, ref float largest)
    {
        held = 4 * interval;
        Improve(Fine(held, Window), held, first, end, ref best, ref largest);
    }

    // Whether a sample of the interval outside the window may matter.
    private bool EdgeMatters(int interval, int window, float side, float middle, int from, int to)
    {
        if (interval < from || interval >= to)
            return false;
        float a = _coarse[interval];
        float b = _coarse[interval + 1];
        for (int d = 1; d < 4; d++)
        {
            int sample = 4 * interval + d;
            if (sample >= window && sample < window + Window)
                continue;
            float chord = a + 0.25f * d * (b - a);
            if (chord >= (d == 2 ? middle : side))
                return true;
        }
        return false;
    }

    // Squared envelope at the full rate, into _fine.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Span<float> Fine(int first, int count)
    {
        _filter.SquaredEnvelopePadded(ref _padded[_margin + first - _half], ref _fine[0], count);
        return _fine.AsSpan(0, count);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Improve(Span<float> fine, int window, int first, int end, ref int best, ref float largest)
    {
        int from = Math.Max(first - window, 0);
        int to = Math.Min(end - window, Window);
        if (from >= to)
            return;
        int k = from + Magnitude.IndexOfLargestSigned(fine[from..to], _filter.Path);
        if (fine[k] > largest || (fine[k] == largest && window + k < best))
        {
            largest = fine[k];
            best = window + k;
        }
    }

    // Inputs under this, but for _shift outermost taps that meet inputs up to largest, cannot raise the envelope to a level.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private float Input(double level, double largest) =>
        (float)(Math.Max(level * (1 - Rounding) - largest * (_tail + Rounding * _gain), 0) / _gain * (1 - Rounding));

    // (level - slack)^2 as a threshold on squares; 0 lets everything pass.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static float Threshold(double level, double slack)
    {
        double rest = level - slack;
        return rest > 0 ? (float)(rest * rest * (1 - 1e-6)) : 0;
    }

    // Computes outputs from .. to (inclusive), extending the stretch that is there already where it can.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Ensure(int from, int to)
    {
        if (_coarseFirst == _coarseEnd || from > _coarseEnd || to < _coarseFirst - 1)
        {
            _coarseFirst = from;
            _coarseEnd = from;
        }
        if (from < _coarseFirst)
        {
            Compute(from, _coarseFirst);
            _coarseFirst = from;
        }
        if (to >= _coarseEnd)
        {
            Compute(_coarseEnd, to + 1);
            _coarseEnd = to + 1;
        }
    }

    // At least a vector, where it fits, so that no path falls back on single outputs.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Compute(int from, int end)
    {
        int start = Math.Max(Math.Min(from, end - Window), 0);
        _split.SquaredEnvelope(start, ref _coarse[start], end - start);
    }
}
