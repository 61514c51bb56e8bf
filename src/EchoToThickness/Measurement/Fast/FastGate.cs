using System.Runtime.CompilerServices;

namespace EchoToThickness.Measurement.Fast;

/// <summary>A gate of a <see cref="FastPlan"/>, in samples behind the picked position that it follows.</summary>
/// <param name="StartSamples">Start; behind the interface's pick it contains the offset of the interface.</param>
/// <param name="EndSamples">End.</param>
/// <param name="Level">Level, fraction of full scale.</param>
/// <param name="FollowsInterface">Rides on the interface, else on the first gate's echo.</param>
internal readonly record struct FastGate(double StartSamples, double EndSamples, float Level, bool FollowsInterface)
{
    // Far outside any record; keeps indices within int.
    private const double Far = 1 << 29;

    /// <summary>Samples of the gate, cut to the record: those with <c>start &lt;= t &lt; end</c>, a billionth of a sample for rounding.</summary>
    /// <param name="followed">Picked position that the gate follows, samples.</param>
    /// <param name="samples">Samples of the record.</param>
    /// <param name="low">First sample.</param>
    /// <param name="high">One past the last sample.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Place(double followed, int samples, out int low, out int high)
    {
        int start = double.ConvertToIntegerNative<int>(Math.Ceiling(followed + StartSamples - 1e-9));
        int end = double.ConvertToIntegerNative<int>(Math.Ceiling(followed + EndSamples - 1e-9));
        low = Math.Min(Math.Max(start, 0), samples);
        high = Math.Min(Math.Max(end, low), samples);
    }

    /// <summary>Holds a distance within what <see cref="Place"/> can compute with.</summary>
    /// <param name="distance">Samples.</param>
    public static double Held(double distance) => Math.Clamp(distance, -Far, Far);
}
