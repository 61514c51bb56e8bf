using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace EchoToThickness.Signals;

/// <summary>Medians of sixteen equal stretches of a non-negative record at once, one stretch a lane. Exact; the same bits on every machine.</summary>
/// <remarks>
/// Non-negative floats order like their bits, so the k-th smallest is found bit by bit: the largest pattern with fewer than k + 1 values under
/// it. All sixteen searches run in the lanes of one vector. The median of an even count is the mean of the middle two.
/// </remarks>
public sealed class SegmentMedians
{
    /// <summary>Stretches.</summary>
    public const int Segments = 16;

    private readonly int _length;
    private readonly int[] _transposed;

    /// <summary>Makes room for records of one length; samples beyond sixteen equal stretches are left out.</summary>
    /// <param name="samples">Samples of a record, at least 16.</param>
    public SegmentMedians(int samples)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(samples, Segments);
        _length = samples / Segments;
        _transposed = new int[_length * Segments];
    }

    /// <summary>Medians of the stretches, in order.</summary>
    /// <param name="record">Shape [sample]; non-negative, not NaN.</param>
    /// <param name="medians">Shape [16]: takes the result.</param>
    /// <exception cref="ArgumentException">A span of the wrong length.</exception>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Run(ReadOnlySpan<float> record, Span<float> medians)
    {
        if (record.Length < _length * Segments)
            throw new ArgumentException($"{record.Length} samples; {_length * Segments} are needed.", nameof(record));
        if (medians.Length < Segments)
            throw new ArgumentException($"Room for {medians.Length} medians; {Segments} are found.", nameof(medians));
        for (int segment = 0; segment < Segments; segment++)
        {
            ReadOnlySpan<float> stretch = record.Slice(segment * _length, _length);
            for (int i = 0; i < stretch.Length; i++)
                _transposed[i * Segments + segment] = BitConverter.SingleToInt32Bits(stretch[i]);
        }
        Vector512<int> low = Select((_length - 1) / 2);
        Vector512<int> high = (_length & 1) == 1 ? low : Next(low);
        for (int segment = 0; segment < Segments; segment++)
            medians[segment] =
                0.5f
                * (
                    BitConverter.Int32BitsToSingle(low.GetElement(segment))
                    + BitConverter.Int32BitsToSingle(high.GetElement(segment))
                );
    }

    private Vector512<int> Select(int rank)
    {
        Vector512<int> found = Vector512<int>.Zero;
        Vector512<int> limit = Vector512.Create(-(rank + 1));
        ReadOnlySpan<int> values = _transposed;
        for (int bit = 30; bit >= 0; bit--)
        {
            Vector512<int> trial = found | Vector512.Create(1 << bit);
            // A comparison that holds is -1 in its lane, so the sum counts downwards.
            Vector512<int> even = Vector512<int>.Zero;
            Vector512<int> odd = Vector512<int>.Zero;
            int i = 0;
            for (; i + 2 <= _length; i += 2)
            {
                even += Vector512.LessThan(Vector512.Create(values.Slice(i * Segments, Segments)), trial);
                odd += Vector512.LessThan(Vector512.Create(values.Slice((i + 1) * Segments, Segments)), trial);
            }
            if (i < _length)
                even += Vector512.LessThan(Vector512.Create(values.Slice(i * Segments, Segments)), trial);
            found = Vector512.ConditionalSelect(Vector512.GreaterThan(even + odd, limit), trial, found);
        }
        return found;
    }

    /// <summary>The next order statistic: the same value when enough samples are at or under it, else the smallest above.</summary>
    private Vector512<int> Next(Vector512<int> value)
    {
        Vector512<int> count = Vector512<int>.Zero;
        Vector512<int> above = Vector512.Create(int.MaxValue);
        ReadOnlySpan<int> values = _transposed;
        for (int i = 0; i < _length; i++)
        {
            Vector512<int> sample = Vector512.Create(values.Slice(i * Segments, Segments));
            Vector512<int> greater = Vector512.GreaterThan(sample, value);
            count += ~greater;
            above = Vector512.Min(above, Vector512.ConditionalSelect(greater, sample, Vector512.Create(int.MaxValue)));
        }
        return Vector512.ConditionalSelect(Vector512.LessThan(count, Vector512.Create(-(_length / 2))), value, above);
    }
}
